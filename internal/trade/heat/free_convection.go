package heat

import (
	"fmt"
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

const (
	gravity         = 9.81     // m/s²
	zeroCelsius     = 273.15   // K
	stefanBoltzmann = 5.670e-8 // W/(m²·K⁴)
)

// absolute returns the temperature in kelvin.
func absolute(t quantity.Temperature) float64 { return float64(t) + zeroCelsius }

// textbook is where the laws of the third opinion stand.
var textbook = explain.Source{Work: "Cengel, Heat and Mass Transfer", Place: "chapter 9, natural convection over surfaces"}

// The ways a plate can stand, in the words of the formula.
const (
	upright    = "upright"
	warmSideUp = "warm side up"
	warmDown   = "warm side down"
)

var plateConvection = &explain.Formula{
	Name: "plate-convection", Title: "heat that free convection carries off a plate in still air",
	Words: "textbook law for a plate {standing}, {length}, {surface} in air of {air}: Churchill and Chu upright, 0.54 and 0.27 times the fourth root of the Rayleigh number lying",
	Inputs: []explain.Parameter{
		{Name: "standing", Kind: quantity.KindText, Help: "how the plate stands", Example: upright, Default: upright, Choices: []string{upright, warmSideUp, warmDown}},
		{Name: "length", Kind: quantity.KindLength, Help: "height of an upright plate; area over circumference of one that lies", Example: "0.6 m"},
		{Name: "surface", Kind: quantity.KindTemperature, Help: "of the plate", Example: "90 °C"},
		{Name: "air", Kind: quantity.KindTemperature, Help: "away from the plate", Example: "30 °C"},
	},
	Result: quantity.KindHeatTransfer, Source: textbook,
	Compute: explain.Of4(func(standing quantity.Text, l quantity.Length, surface, air quantity.Temperature) (explain.Answer, error) {
		if l <= 0 {
			return explain.Answer{}, fmt.Errorf("the length must be above zero")
		}
		return explain.Is(convection(standing, l, surface, air))
	}),
}

// convection returns what free convection passes at sea level, with the properties of air at the mean of the two temperatures.
func convection(standing quantity.Text, l quantity.Length, surface, air quantity.Temperature) quantity.HeatTransfer {
	mean := (surface + air) / 2
	a := catalogue.AirAt(mean)
	rayleigh := gravity / absolute(mean) * math.Abs(float64(surface-air)) * math.Pow(float64(l), 3) / (a.Viscosity * a.Viscosity) * a.Prandtl
	var nusselt float64
	switch standing {
	case warmSideUp:
		nusselt = 0.54 * math.Pow(rayleigh, 0.25)
	case warmDown:
		nusselt = 0.27 * math.Pow(rayleigh, 0.25)
	default:
		nusselt = math.Pow(0.825+0.387*math.Pow(rayleigh, 1.0/6)/math.Pow(1+math.Pow(0.492/a.Prandtl, 9.0/16), 8.0/27), 2)
	}
	return quantity.HeatTransfer(nusselt * a.Conductivity / float64(l))
}

var radiation = &explain.Formula{
	Name: "radiated-heat", Title: "heat that a surface radiates to its surroundings, as a coefficient",
	Words: "{emissivity} × 5.67·10⁻⁸ × ({surface}⁴ − {surroundings}⁴) ÷ ({surface} − {surroundings}), temperatures absolute",
	Inputs: []explain.Parameter{
		{Name: "emissivity", Kind: quantity.KindFactor, Help: "0.9 for paint of any colour, 0.1 to 0.3 for bare metal", Example: "0.9"},
		{Name: "surface", Kind: quantity.KindTemperature, Help: "of the wall", Example: "29 °C"},
		{Name: "surroundings", Kind: quantity.KindTemperature, Help: "walls of the shop", Example: "20 °C"},
	},
	Result: quantity.KindHeatTransfer, Source: explain.Physics("law of Stefan and Boltzmann"),
	Compute: explain.Of3(func(e quantity.Factor, surface, around quantity.Temperature) (explain.Answer, error) {
		return explain.Is(radiated(e, surface, around))
	}),
}

// radiated is (a⁴ − b⁴) ÷ (a − b) times emissivity and constant, written so that equal temperatures do no harm.
func radiated(e quantity.Factor, surface, around quantity.Temperature) quantity.HeatTransfer {
	a, b := absolute(surface), absolute(around)
	return quantity.HeatTransfer(float64(e) * stefanBoltzmann * (a*a + b*b) * (a + b))
}

var twoFilms = &explain.Formula{
	Name: "reckoned-wall", Title: "heat that a thin metal wall passes, from the laws of convection and radiation",
	Words: "film of air on each side of an upright wall of {height}, free convection and radiation with {emissivity} both sides, {inside} to {shop}; the wall's own temperature found by trial",
	Inputs: []explain.Parameter{
		boxHeightParameter,
		{Name: "emissivity", Kind: quantity.KindFactor, Help: "0.9 for paint of any colour, 0.1 to 0.3 for bare metal", Example: "0.9"},
		{Name: "inside", Kind: quantity.KindTemperature, Help: "air and parts in the box", Example: "55 °C"},
		shopParameter,
	},
	Result: quantity.KindHeatTransfer, Source: textbook,
	Compute: explain.Of4(func(h quantity.Length, e quantity.Factor, inside, shop quantity.Temperature) (explain.Answer, error) {
		if h <= 0 {
			return explain.Answer{}, fmt.Errorf("the height must be above zero")
		}
		if math.Abs(float64(inside-shop)) < 0.01 {
			inside = shop + 0.01
		}
		film := func(wall, air quantity.Temperature) float64 {
			return float64(convection(upright, h, wall, air) + radiated(e, wall, air))
		}
		low, high := min(inside, shop), max(inside, shop)
		for range 60 {
			wall := (low + high) / 2
			// As much must come through the inner film as leaves by the outer.
			if film(wall, inside)*math.Abs(float64(inside-wall)) > film(wall, shop)*math.Abs(float64(wall-shop)) == (inside > shop) {
				low = wall
			} else {
				high = wall
			}
		}
		wall := (low + high) / 2
		return explain.Is(quantity.HeatTransfer(film(wall, shop) * float64((wall-shop)/(inside-shop))))
	}),
}
