package heat

import (
	"fmt"
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

const (
	gasConstant = 287.05 // J/(kg·K), dry air
	airHeat     = 1005   // J/(kg·K), at constant pressure
)

// seaLevel is the air pressure of the standard atmosphere at sea level.
const seaLevel quantity.Pressure = 101325

// pressureAt returns the air pressure at the altitude. Source: ISO 2533:1975, standard atmosphere, recalled.
func pressureAt(h quantity.Length) quantity.Pressure {
	return seaLevel * quantity.Pressure(math.Pow(max(1-2.25577e-5*float64(h), 0.1), 5.25588))
}

// density returns the density of air in kg/m³.
func density(t quantity.Temperature, altitude quantity.Length) float64 {
	return float64(pressureAt(altitude)) / (gasConstant * absolute(t))
}

// carried returns the heat that air takes along for each kelvin.
func carried(q quantity.AirFlow, shop quantity.Temperature, altitude quantity.Length) quantity.Conductance {
	return quantity.Conductance(density(shop, altitude) * airHeat * float64(q))
}

var (
	betweenParameter = explain.Parameter{Name: "height between", Kind: quantity.KindLength, Help: "of the openings' middles", Example: "500 mm"}
	openingParameter = explain.Parameter{Name: "free opening", Kind: quantity.KindArea, Help: "of both openings together", Example: "2000 mm²"}
	dragParameter    = explain.Parameter{Name: "filters", Kind: quantity.KindPressure, Help: "pressure that filter mats take at 25 m³/h (15 cfm)", Example: "0 Pa", Default: "0 Pa"}
	flowParameter    = explain.Parameter{Name: "flow", Kind: quantity.KindAirFlow, Help: "of air through the box", Example: "25 m³/h"}
	eachParameter    = explain.Parameter{Name: "open", Kind: quantity.KindRatio, Help: "part of the cut-out that is open", Example: "40 %", Default: "40 %"}
	dischargeInput   = explain.Parameter{Name: "discharge", Kind: quantity.KindFactor, Help: "of what would go through a lossless opening", Example: "0.6", Default: "0.6"}
	stackSource      = explain.Source{Work: "stack effect", Place: "flow through two openings at a height from each other, as ventilation texts give it"}
	carriedSource    = explain.Physics("heat that air takes along, 1005 J for each kilogram and kelvin")
)

// dragFlow is the flow at which the pressure across filter mats is given.
const dragFlow quantity.AirFlow = 25.0 / 3600

var freeOpening = &explain.Formula{
	Name: "free-opening", Title: "what a low and a high opening let through together",
	Words: "{open} × {discharge} × {lower} × {upper} ÷ √({lower} × {lower} + {upper} × {upper})",
	Inputs: []explain.Parameter{
		{Name: "lower", Kind: quantity.KindArea, Help: "cut-out of the low opening", Example: "8000 mm²"},
		{Name: "upper", Kind: quantity.KindArea, Help: "cut-out of the high opening", Example: "8800 mm²"},
		eachParameter, dischargeInput,
	},
	Result: quantity.KindArea, Source: explain.Source{Work: "ventilation texts", Place: "two openings in series"}.Remembered(),
	Compute: explain.Of4(func(low, high quantity.Area, open quantity.Ratio, discharge quantity.Factor) (explain.Answer, error) {
		if low <= 0 || high <= 0 {
			return explain.Answer{}, fmt.Errorf("a draught needs an opening low and one high")
		}
		together := float64(low) * float64(high) / math.Hypot(float64(low), float64(high))
		return explain.Is(quantity.Area(float64(open) * float64(discharge) * together))
	}),
}

var filterDrag = &explain.Formula{
	Name: "filter-drag", Title: "pressure that the mats of both openings take at 25 m³/h (15 cfm)",
	Words: "{mat} at 1 m/s (197 ft/min) × 25 m³/h (15 cfm) × (1 ÷ {lower} + 1 ÷ {upper})",
	Inputs: []explain.Parameter{
		{Name: "mat", Kind: quantity.KindPressure, Help: "pressure that it takes at 1 m/s, clean", Example: "40 Pa"},
		{Name: "lower", Kind: quantity.KindArea, Help: "cut-out of the low opening", Example: "8000 mm²"},
		{Name: "upper", Kind: quantity.KindArea, Help: "cut-out of the high opening", Example: "8800 mm²"},
	},
	Result: quantity.KindPressure, Source: explain.Practice("mats take pressure in proportion to the speed through them"),
	Compute: explain.Of3(func(mat quantity.Pressure, low, high quantity.Area) (explain.Answer, error) {
		if low <= 0 || high <= 0 {
			return explain.Answer{}, fmt.Errorf("a draught needs an opening low and one high")
		}
		return explain.Is(mat * quantity.Pressure(float64(dragFlow)*(1/float64(low)+1/float64(high))))
	}),
}

var draughtPressure = &explain.Formula{
	Name: "draught-pressure", Title: "pressure of a natural draught",
	Words: "air's weight over {height between}: 0.0342 K/m × air pressure at {altitude} × {height between} × (1 ÷ {shop} − 1 ÷ {inside}), temperatures absolute",
	Inputs: []explain.Parameter{betweenParameter, shopParameter,
		{Name: "inside", Kind: quantity.KindTemperature, Help: "air in the box", Example: "55 °C"}, altitudeParameter},
	Result: quantity.KindPressure, Source: stackSource,
	Compute: explain.Of4(func(h quantity.Length, shop, inside quantity.Temperature, altitude quantity.Length) (explain.Answer, error) {
		return explain.Is(draught(h, shop, inside, altitude))
	}),
}

func draught(h quantity.Length, shop, inside quantity.Temperature, altitude quantity.Length) quantity.Pressure {
	return quantity.Pressure(gravity / gasConstant * float64(h) * (1/absolute(shop) - 1/absolute(inside)) * float64(pressureAt(altitude)))
}

// draughtFlow returns the flow of a natural draught, and 0 where there is none. The openings take ½·ρ·(Q/A)², the mats their pressure in proportion to Q.
func draughtFlow(d quantity.TemperatureRise, opening quantity.Area, h quantity.Length, drag quantity.Pressure, shop quantity.Temperature, altitude quantity.Length) quantity.AirFlow {
	push := float64(draught(h, shop, shop.Warmer(d), altitude))
	if push <= 0 || opening <= 0 {
		return 0
	}
	square := density(shop, altitude) / (2 * float64(opening) * float64(opening))
	linear := float64(drag / quantity.Pressure(dragFlow))
	return quantity.AirFlow((math.Sqrt(linear*linear+4*square*push) - linear) / (2 * square))
}

var naturalFlow = &explain.Formula{
	Name: "draught-flow", Title: "air that a natural draught takes through a box",
	Words:  "the flow at which {free opening} and {filters} take up the draught of {rise} over {height between}; without filters {free opening} × √(2 × 9.81 m/s² × {height between} × {rise} ÷ inside temperature), {shop}, {altitude}",
	Inputs: []explain.Parameter{riseParameter, openingParameter, betweenParameter, dragParameter, shopParameter, altitudeParameter},
	Result: quantity.KindAirFlow, Source: stackSource,
	Compute: explain.Of6(func(d quantity.TemperatureRise, a quantity.Area, h quantity.Length, drag quantity.Pressure, shop quantity.Temperature, altitude quantity.Length) (explain.Answer, error) {
		return explain.Is(draughtFlow(d, a, h, drag, shop, altitude))
	}),
}

var ventedRise = &explain.Formula{
	Name: "vented-rise", Title: "how much warmer than the shop a box with a natural draught gets",
	Words: "the rise at which {walls} and the draught through {free opening} over {height between}, against {filters}, carry off {heat}; {shop}, {altitude}; found by trial",
	Inputs: []explain.Parameter{heatParameter, conductanceParameter, openingParameter, betweenParameter, dragParameter,
		shopParameter, altitudeParameter},
	Result: quantity.KindTemperatureRise, Source: stackSource,
	Compute: explain.Of7(func(p quantity.Power, u quantity.Conductance, a quantity.Area, h quantity.Length, drag quantity.Pressure, shop quantity.Temperature, altitude quantity.Length) (explain.Answer, error) {
		if u <= 0 {
			return explain.Answer{}, fmt.Errorf("walls that pass no heat aren't reckoned with")
		}
		low, high := quantity.TemperatureRise(0), riseOf(p, u)
		if high <= 0 { // the box is cooler than the shop: no draught
			return explain.Is(high)
		}
		for range 60 {
			d := (low + high) / 2
			off := u + carried(draughtFlow(d, a, h, drag, shop, altitude), shop, altitude)
			if passed(off, d) < p {
				low = d
			} else {
				high = d
			}
		}
		return explain.Is((low + high) / 2)
	}),
}

var fanRise = &explain.Formula{
	Name: "fan-rise", Title: "how much warmer than the shop a box with a fan gets",
	Words:  "{heat} ÷ ({walls} + {flow} × air density at {shop} and {altitude} × 1005 J/(kg·K))",
	Inputs: []explain.Parameter{heatParameter, conductanceParameter, flowParameter, shopParameter, altitudeParameter},
	Result: quantity.KindTemperatureRise, Source: carriedSource,
	Compute: explain.Of5(func(p quantity.Power, u quantity.Conductance, q quantity.AirFlow, shop quantity.Temperature, altitude quantity.Length) (explain.Answer, error) {
		all := u + carried(q, shop, altitude)
		if all <= 0 {
			return explain.Answer{}, fmt.Errorf("neither walls nor air carry anything off")
		}
		return explain.Is(riseOf(p, all))
	}),
}

var airHeatFormula = &explain.Formula{
	Name: "air-heat", Title: "heat that air takes along out of a box",
	Words:  "{flow} × air density at {shop} and {altitude} × 1005 J/(kg·K) × {rise}",
	Inputs: []explain.Parameter{flowParameter, riseParameter, shopParameter, altitudeParameter},
	Result: quantity.KindPower, Source: carriedSource,
	Compute: explain.Of4(func(q quantity.AirFlow, d quantity.TemperatureRise, shop quantity.Temperature, altitude quantity.Length) (explain.Answer, error) {
		return explain.Is(passed(carried(q, shop, altitude), d))
	}),
}

var flowNeeded = &explain.Formula{
	Name: "flow-needed", Title: "air that must go through a box to hold it at a rise",
	Words:  "({heat} ÷ {rise} − {walls}) ÷ (air density at {shop} and {altitude} × 1005 J/(kg·K))",
	Inputs: []explain.Parameter{heatParameter, conductanceParameter, riseParameter, shopParameter, altitudeParameter},
	Result: quantity.KindAirFlow, Source: carriedSource,
	Compute: explain.Of5(func(p quantity.Power, u quantity.Conductance, d quantity.TemperatureRise, shop quantity.Temperature, altitude quantity.Length) (explain.Answer, error) {
		if d <= 0 {
			return explain.Answer{}, errTooHotToCool
		}
		byAir := float64(p)/float64(d) - float64(u)
		if byAir <= 0 {
			return explain.Answer{Value: quantity.AirFlow(0), Note: explain.Say("the walls are enough")}, nil
		}
		return explain.Is(quantity.AirFlow(byAir / (density(shop, altitude) * airHeat)))
	}),
}

// errTooHotToCool is why no air of the shop helps.
var errTooHotToCool = fmt.Errorf("the air of the shop is as warm as the parts allow: no amount of it cools them")

var openingNeeded = &explain.Formula{
	Name: "opening-needed", Title: "free opening that a natural draught needs",
	Words:  "{flow} ÷ √(2 × 9.81 m/s² × {height between} × {rise} ÷ ({shop} + {rise})), temperatures absolute",
	Inputs: []explain.Parameter{flowParameter, betweenParameter, riseParameter, shopParameter},
	Result: quantity.KindArea, Source: stackSource,
	Compute: explain.Of4(func(q quantity.AirFlow, h quantity.Length, d quantity.TemperatureRise, shop quantity.Temperature) (explain.Answer, error) {
		if d <= 0 || h <= 0 {
			return explain.Answer{}, fmt.Errorf("a draught needs warmer air inside and a height")
		}
		return explain.Is(quantity.Area(float64(q) / math.Sqrt(2*gravity*float64(h)*float64(d)/absolute(shop.Warmer(d)))))
	}),
}

var cutOutNeeded = &explain.Formula{
	Name: "vent-needed", Title: "cut-out of each of two equal openings",
	Words:  "√2 × {free opening} ÷ ({open} × {discharge})",
	Inputs: []explain.Parameter{openingParameter, eachParameter, dischargeInput},
	Result: quantity.KindArea, Source: explain.Physics("two equal openings in series"),
	Compute: explain.Of3(func(a quantity.Area, open quantity.Ratio, discharge quantity.Factor) (explain.Answer, error) {
		if open <= 0 || discharge <= 0 {
			return explain.Answer{}, fmt.Errorf("a closed opening lets nothing through")
		}
		return explain.Is(a * quantity.Area(math.Sqrt2/(float64(open)*float64(discharge))))
	}),
}

var cloggedFlow = &explain.Formula{
	Name: "clogged-flow", Title: "what a fan delivers through a full filter",
	Words:  "{flow} × {left}",
	Inputs: []explain.Parameter{flowParameter, {Name: "left", Kind: quantity.KindRatio, Help: "of the flow when the filter is full: 50 % in dust", Example: "50 %", Default: "50 %"}},
	Result: quantity.KindAirFlow, Source: explain.Practice("filters are cleaned late"),
	Compute: explain.Of2(func(q quantity.AirFlow, left quantity.Ratio) (explain.Answer, error) {
		return explain.Is(quantity.Scale(q, left))
	}),
}

var fanToBuy = &explain.Formula{
	Name: "fan-to-buy", Title: "free-air flow of the fan that delivers enough with its filter full",
	Words: "{flow} ÷ {left} ÷ {delivered}",
	Inputs: []explain.Parameter{flowParameter,
		{Name: "left", Kind: quantity.KindRatio, Help: "of the flow when the filter is full: 50 % in dust", Example: "50 %", Default: "50 %"},
		{Name: "delivered", Kind: quantity.KindRatio, Help: "of the free-air flow with clean filters", Example: "60 %", Default: "60 %"}},
	Result: quantity.KindAirFlow, Source: explain.Practice("a fan's free-air flow is what its label says"),
	Compute: explain.Of3(func(q quantity.AirFlow, left, delivered quantity.Ratio) (explain.Answer, error) {
		if left <= 0 || delivered <= 0 {
			return explain.Answer{}, fmt.Errorf("something must be left of the flow")
		}
		return explain.Is(q / quantity.AirFlow(left*delivered))
	}),
}
