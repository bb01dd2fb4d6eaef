package heat

import (
	"fmt"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

var (
	factorParameter = explain.Parameter{Name: "factor", Kind: quantity.KindFactor, Help: "against mid-height, where it stands", Example: "1.1", Default: "1"}
	ratedParameter  = explain.Parameter{Name: "rated current", Kind: quantity.KindCurrent, Help: "all day, in air that isn't too warm", Example: "9.5 A"}
	fromParameter   = explain.Parameter{Name: "full-current temperature", Kind: quantity.KindTemperature, Help: "up to which it gives that", Example: "40 °C", Default: "40 °C"}
	derateParameter = explain.Parameter{Name: "derating", Kind: quantity.KindRatio, Help: "of the rated current, lost for each 1 °C (1.8 °F) above", Example: "2.5 %", Default: "2.5 %"}
	limitParameter  = explain.Parameter{Name: "limit", Kind: quantity.KindTemperature, Help: "warmest air that its data sheet allows", Example: "50 °C"}
	warmestInput    = explain.Parameter{Name: "warmest air", Kind: quantity.KindTemperature, Help: "that the part may have around it", Example: "50 °C"}
	deratingSource  = explain.Source{Work: "drive makers' manuals", Place: "derating tables, the steepest of several makers"}
)

var airThere = &explain.Formula{
	Name: "air-at-part", Title: "air where a part stands in the box",
	Words:  "{shop} + {rise} × {factor}",
	Inputs: []explain.Parameter{shopParameter, riseParameter, factorParameter},
	Result: quantity.KindTemperature, Source: explain.Physics("sum"),
	Compute: explain.Of3(func(shop quantity.Temperature, d quantity.TemperatureRise, c quantity.Factor) (explain.Answer, error) {
		return explain.Is(shop.Warmer(quantity.Scale(d, c)))
	}),
}

// one is the factor of air that is as warm everywhere, and of air at mid-height.
var one = explain.Constant[quantity.Factor]("factor of mid-height", 1, explain.Physics("by definition"))

// airWarmer is the shop's air warmed by the rise.
func airWarmer(name string, shop explain.Known[quantity.Temperature], d explain.Known[quantity.TemperatureRise], factor explain.Known[quantity.Factor]) explain.Known[quantity.Temperature] {
	return explain.Derive[quantity.Temperature](airThere, name, shop, d, factor)
}

var outputThere = &explain.Formula{
	Name: "current-in-warm-air", Title: "current that a part gives all day in warm air",
	Words:  "{rated current} × (1 − {derating} for each 1 °C (1.8 °F) that {air} is above {full-current temperature})",
	Inputs: []explain.Parameter{ratedParameter, {Name: "air", Kind: quantity.KindTemperature, Help: "around the part", Example: "45 °C"}, fromParameter, derateParameter},
	Result: quantity.KindCurrent, Source: deratingSource,
	Compute: explain.Of4(func(i quantity.Current, air, from quantity.Temperature, rate quantity.Ratio) (explain.Answer, error) {
		return explain.Is(i * quantity.Current(max(1-float64(rate)*max(float64(quantity.Rise(air, from)), 0), 0)))
	}),
}

var warmestForCurrent = &explain.Formula{
	Name: "warmest-air-for-current", Title: "warmest air in which a part still gives the current asked",
	Words:  "{full-current temperature} + (1 − {needed} ÷ {rated current}) ÷ {derating}, at most {limit}",
	Inputs: []explain.Parameter{ratedParameter, {Name: "needed", Kind: quantity.KindCurrent, Help: "that the job asks of it", Example: "8 A"}, fromParameter, derateParameter, limitParameter},
	Result: quantity.KindTemperature, Source: deratingSource,
	Compute: explain.Of5(func(rated, needed quantity.Current, from quantity.Temperature, rate quantity.Ratio, limit quantity.Temperature) (explain.Answer, error) {
		switch {
		case rated <= 0 || rate < 0:
			return explain.Answer{}, fmt.Errorf("the rated current must be above zero and the derating not below")
		case needed > rated:
			return explain.Answer{}, fmt.Errorf("it doesn't give %.3g A in any air", float64(needed))
		case rate == 0:
			return explain.Answer{Value: limit, Words: "{limit}, as {derating} of {rated current} is lost above {full-current temperature}; {needed} asked"}, nil
		}
		return explain.Is(min(from+quantity.Temperature(float64(1-needed/rated)/float64(rate)), limit))
	}),
}

var marginThere = &explain.Formula{
	Name: "heat-margin", Title: "how much warmer the air around a part may get",
	Words:  "{warmest air} − {air}",
	Inputs: []explain.Parameter{warmestInput, {Name: "air", Kind: quantity.KindTemperature, Help: "around the part", Example: "45 °C"}},
	Result: quantity.KindTemperatureRise, Source: explain.Physics("difference"),
	Compute: explain.Of2(func(warmest, air quantity.Temperature) (explain.Answer, error) {
		return explain.Is(quantity.Rise(warmest, air))
	}),
}

var allowedRise = &explain.Formula{
	Name: "allowed-rise", Title: "rise at mid-height that a part allows",
	Words:  "({warmest air} − {shop}) ÷ {factor}",
	Inputs: []explain.Parameter{warmestInput, shopParameter, factorParameter},
	Result: quantity.KindTemperatureRise, Source: explain.Physics("difference"),
	Compute: explain.Of3(func(warmest, shop quantity.Temperature, c quantity.Factor) (explain.Answer, error) {
		if c <= 0 {
			return explain.Answer{}, fmt.Errorf("the factor must be above zero")
		}
		return explain.Is(quantity.Rise(warmest, shop) / quantity.TemperatureRise(c))
	}),
}

// parts fills how each part fares.
func parts(r *Result) {
	b := &r.Box
	stirred := b.Fan.Flow.OK()
	var allowed, mixed []explain.Known[quantity.TemperatureRise]
	var named []string
	for _, p := range b.Parts {
		h := PartHeat{Part: p}
		layering := "layering at " + p.Name
		if stirred {
			layering += " without the fan"
		}
		layered := explain.Derive[quantity.Factor](layerFactor, layering, p.Place, r.TopFactor, r.Surface)
		h.Layer = layered
		if stirred {
			h.Layer = explain.Chosen[quantity.Factor]("layering at "+p.Name, 1, "1, as the fan stirs the air", explain.Practice("a fan mixes a small box"), r.Box.Fan.Flow)
		}
		h.Air = airWarmer("air around "+p.Name, b.Ambient, r.Rise, h.Layer)
		h.Warmest = warmestOf(p)
		h.Margin = explain.Derive[quantity.TemperatureRise](marginThere, "margin of "+p.Name, h.Warmest, h.Air)
		if p.Rated.OK() {
			h.Output = explain.Derive[quantity.Current](outputThere, "current of "+p.Name+" in the box", p.Rated, h.Air, p.From, p.Derate)
		} else {
			h.Output = explain.Needless[quantity.Current]("current of "+p.Name+" in the box", explain.Say("nothing to derate"))
		}
		if stirred {
			h.Full = airWarmer("air around "+p.Name+" with a full filter", b.Ambient, r.Fanned.Full, h.Layer)
		} else {
			h.Full = explain.Needless[quantity.Temperature]("air around "+p.Name+" with a full filter", explain.Say("the box has no fan"))
		}
		if r.Cooling.Value == bySeal {
			h.ByTable = airWarmer("air around "+p.Name+" by the tables", b.Ambient, r.Second.Middle, layered)
		} else {
			h.ByTable = explain.Needless[quantity.Temperature]("air around "+p.Name+" by the tables", explain.Say("they are for sealed boxes"))
		}
		if h.Warmest.OK() && b.Ambient.OK() && layered.OK() {
			allowed = append(allowed, explain.Derive[quantity.TemperatureRise](allowedRise, "rise that "+p.Name+" allows", h.Warmest, b.Ambient, layered))
			mixed = append(mixed, explain.Derive[quantity.TemperatureRise](allowedRise, "rise that "+p.Name+" allows in stirred air", h.Warmest, b.Ambient, one))
			named = append(named, p.Name)
		}
		r.Parts = append(r.Parts, h)
	}
	r.Allowed, r.Tightest = least("rise that the parts allow", allowed, named)
	r.Mixed, r.TightestMixed = least("rise that the parts allow in stirred air", mixed, named)
}

// warmestOf is the warmest air in which the part does what the job asks.
func warmestOf(p Part) explain.Known[quantity.Temperature] {
	name := "warmest air for " + p.Name
	if !p.Limit.OK() {
		return explain.Absent[quantity.Temperature](name, explain.Say("the warmest air that its data sheet allows isn't given"))
	}
	if p.Rated.OK() && p.Needed.OK() && p.Needed.Value <= p.Rated.Value {
		return explain.Derive[quantity.Temperature](warmestForCurrent, name, p.Rated, p.Needed, p.From, p.Derate, p.Limit)
	}
	return explain.Renamed(name, p.Limit)
}

// least picks the smallest rise, and whose it is.
func least(name string, rises []explain.Known[quantity.TemperatureRise], whose []string) (explain.Known[quantity.TemperatureRise], string) {
	best := -1
	for n, d := range rises {
		if d.OK() && (best < 0 || d.Value < rises[best].Value) {
			best = n
		}
	}
	if best < 0 {
		return explain.Absent[quantity.TemperatureRise](name, explain.Say("needs the warmest air that a part allows, and the shop's")), ""
	}
	return explain.Chosen(name, rises[best].Value, "{"+rises[best].Why().Name+"}, the least of all parts", explain.Physics("the least"), rises[best]), whose[best]
}
