package heat

import (
	"fmt"
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

var sealedRise = &explain.Formula{
	Name: "sealed-rise", Title: "how much warmer than the shop a sealed box gets",
	Words: "{heat} ÷ {walls}", Inputs: []explain.Parameter{heatParameter, conductanceParameter},
	Result: quantity.KindTemperatureRise, Source: explain.Source{Work: "enclosure makers' climate chapters", Place: "heat passed = coefficient × effective surface × difference"},
	Compute: explain.Of2(func(p quantity.Power, u quantity.Conductance) (explain.Answer, error) {
		if u <= 0 {
			return explain.Answer{}, fmt.Errorf("walls that pass no heat leave no limit to the rise")
		}
		return explain.Is(riseOf(p, u))
	}),
}

// riseOf is the temperature difference that the heat needs to go through.
func riseOf(p quantity.Power, u quantity.Conductance) quantity.TemperatureRise {
	return quantity.TemperatureRise(float64(p) / float64(u))
}

var heatPassed = &explain.Formula{
	Name: "heat-passed", Title: "heat that goes through walls at a temperature difference",
	Words: "{walls} × {rise}", Inputs: []explain.Parameter{conductanceParameter, riseParameter},
	Result: quantity.KindPower, Source: newtonSource,
	Compute: explain.Of2(func(u quantity.Conductance, d quantity.TemperatureRise) (explain.Answer, error) {
		return explain.Is(passed(u, d))
	}),
}

// sealed fills the rise of the closed box.
func sealed(r *Result) {
	r.Sealed = r.settle(func(l load) explain.Known[quantity.TemperatureRise] {
		return explain.Derive[quantity.TemperatureRise](sealedRise, "rise in the box sealed", l.heat, l.walls)
	})
}

var tabulatedSource = explain.Source{Work: "IEC TR 60890", Edition: "2014", Place: "enclosures without openings"}.Remembered()

var tabulatedRise = &explain.Formula{
	Name: "tabulated-rise", Title: "rise at mid-height of a sealed box by the tables of IEC TR 60890",
	Words:  "k of {cooling surface} × ({heat})^0.804, in watts",
	Inputs: []explain.Parameter{heatParameter, surfaceParameter},
	Result: quantity.KindTemperatureRise, Source: tabulatedSource,
	Compute: explain.Of2(func(p quantity.Power, a quantity.Area) (explain.Answer, error) {
		if p < 0 {
			return explain.Answer{}, fmt.Errorf("the method is for heat that leaves the box")
		}
		k, source, err := catalogue.RiseConstant(a)
		if err != nil {
			return explain.Answer{}, err
		}
		return explain.Answer{Value: quantity.TemperatureRise(float64(k) * math.Pow(float64(p), 0.804)), Source: source}, nil
	}),
}

var topFactor = &explain.Formula{
	Name: "top-factor", Title: "how many times the rise at mid-height the air at the top of a sealed box is warmer",
	Words:  "curve for {cooling surface}, {height} × {width} × {depth}, {mounted}",
	Inputs: []explain.Parameter{surfaceParameter, boxHeightParameter, boxWidthParameter, boxDepthParameter, mountedParameter},
	Result: quantity.KindFactor, Source: tabulatedSource,
	Compute: explain.Of5(func(a quantity.Area, h, w, d quantity.Length, mounted quantity.Text) (explain.Answer, error) {
		c, source, err := catalogue.TopFactor(a, h, w, d, string(mounted))
		return explain.Answer{Value: c, Source: source, Looked: true}, err
	}),
}

var layerFactor = &explain.Formula{
	Name: "layer-factor", Title: "how many times the rise at mid-height the air is warmer where a part stands",
	Words: "1 up to mid-height, rising straight to {top factor} at the top (in boxes with a cooling surface up to 1.25 m², from three quarters of the height); it stands at {place}, {cooling surface}",
	Inputs: []explain.Parameter{
		{Name: "place", Kind: quantity.KindRatio, Help: "height of the part's middle in the box: 0 % at the bottom, 100 % at the top", Example: "60 %"},
		{Name: "top factor", Kind: quantity.KindFactor, Help: "at the top of the box", Example: "1.2"},
		surfaceParameter,
	},
	Result: quantity.KindFactor, Source: tabulatedSource,
	Compute: explain.Of3(func(place quantity.Ratio, top quantity.Factor, a quantity.Area) (explain.Answer, error) {
		full := 1.0
		if catalogue.SmallEnclosure(a) {
			full = 0.75
		}
		part := min(max((float64(place)-0.5)/(full-0.5), 0), 1)
		return explain.Is(1 + (top-1)*quantity.Factor(part))
	}),
}

var topRise = &explain.Formula{
	Name: "top-rise", Title: "rise at a height in a sealed box",
	Words:  "{rise} × {factor}",
	Inputs: []explain.Parameter{riseParameter, {Name: "factor", Kind: quantity.KindFactor, Help: "against mid-height", Example: "1.2"}},
	Result: quantity.KindTemperatureRise, Source: tabulatedSource,
	Compute: explain.Of2(func(d quantity.TemperatureRise, c quantity.Factor) (explain.Answer, error) {
		return explain.Is(quantity.Scale(d, c))
	}),
}

// second fills the second opinion on the sealed box, and the third.
func second(r *Result) {
	b := &r.Box
	r.TopFactor = explain.Derive[quantity.Factor](topFactor, "top factor of the box", r.Surface, b.Height, b.Width, b.Depth, b.Mounted)
	s := &r.Second
	s.Heat = explain.Derive[quantity.Power](heatPassed, "heat through the cooling surface sealed", r.Wall, r.Sealed)
	s.Middle = explain.Derive[quantity.TemperatureRise](tabulatedRise, "rise at mid-height by the tables", s.Heat, r.Surface)
	s.Top = explain.Derive[quantity.TemperatureRise](topRise, "rise at the top by the tables", s.Middle, r.TopFactor)
	if wall, ok := catalogue.WallOf(string(b.Material.Value)); ok {
		emissivity := explain.Chosen("emissivity of the wall", wall.Emissivity, "table, {"+b.Material.Why().Name+"}", wall.Source, b.Material)
		s.Reckoned = explain.Derive[quantity.HeatTransfer](twoFilms, "heat that the wall passes, reckoned", b.Height, emissivity, airWarmer("air in the box sealed", b.Ambient, r.Sealed, one), b.Ambient)
	} else {
		s.Reckoned = explain.Absent[quantity.HeatTransfer]("heat that the wall passes, reckoned", explain.Say("needs a material of the table"))
	}
}
