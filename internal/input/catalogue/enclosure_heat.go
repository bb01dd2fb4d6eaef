package catalogue

import (
	_ "embed"
	"fmt"
	"math"
	"slices"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed enclosure_surface_factor.csv
var enclosureSurfaceFactorFile string

//go:embed heat_transfer.csv
var heatTransferFile string

//go:embed temperature_rise_constant.csv
var temperatureRiseConstantFile string

//go:embed temperature_distribution.csv
var temperatureDistributionFile string

// SurfaceFactors are the parts of an enclosure's faces that count as cooling surface, for one way of mounting it.
type SurfaceFactors struct {
	Mounted                               string // in the words of the job file, and the rows of enclosures besides
	Type                                  int    // installation type of IEC TR 60890
	Front, Back, Left, Right, Top, Bottom quantity.Factor
	Curve                                 string // of the temperature distribution, for large enclosures
	Source                                explain.Source
}

var surfaceFactors = sync.OnceValue(func() []SurfaceFactors {
	return eachRow(enclosureSurfaceFactorFile, func(t table, row int) SurfaceFactors {
		b := func(face string) quantity.Factor { return quantity.Factor(t.figure(row, face)) }
		return SurfaceFactors{
			Mounted: t.text(row, "mounted"), Type: int(t.figure(row, "installation type")),
			Front: b("front"), Back: b("back"), Left: b("left"), Right: b("right"), Top: b("top"), Bottom: b("bottom"),
			Curve: t.text(row, "curve"), Source: t.sourceOf(row, "type "+t.text(row, "installation type")),
		}
	})
})

// MountedWords are the ways of mounting that the table knows, the freest first. The caller may change the slice.
func MountedWords() []string {
	var words []string
	for _, f := range surfaceFactors() {
		words = append(words, f.Mounted)
	}
	return words
}

// SurfaceFactorsOf returns the factors of the way of mounting; false when the table doesn't know the words.
func SurfaceFactorsOf(mounted string) (SurfaceFactors, bool) {
	for _, f := range surfaceFactors() {
		if f.Mounted == mounted {
			return f, true
		}
	}
	return SurfaceFactors{}, false
}

// Wall is what the walls of an enclosure do with heat.
type Wall struct {
	Material    string
	Coefficient quantity.HeatTransfer // in still air, on the effective cooling surface
	Emissivity  quantity.Factor
	Source      explain.Source
}

var walls = sync.OnceValue(func() []Wall {
	return eachRow(heatTransferFile, func(t table, row int) Wall {
		return Wall{t.text(row, "material"), quantity.HeatTransfer(t.figure(row, "coefficient")), quantity.Factor(t.figure(row, "emissivity")), t.sourceOf(row, t.text(row, "material"))}
	})
})

// WallMaterials are the materials that the table knows. The caller may change the slice.
func WallMaterials() []string {
	var words []string
	for _, w := range walls() {
		words = append(words, w.Material)
	}
	return words
}

// WallOf returns the figures of the material; false when the table doesn't know it.
func WallOf(material string) (Wall, bool) {
	for _, w := range walls() {
		if w.Material == material {
			return w, true
		}
	}
	return Wall{}, false
}

// point is a value of a curve at a place on its axis.
type point struct{ at, value float64 }

// along returns the curve's value at x, read straight between its points; held at its ends.
func along(curve []point, x float64) float64 {
	for n, p := range curve {
		if x <= p.at {
			if n == 0 {
				return p.value
			}
			a := curve[n-1]
			return a.value + (p.value-a.value)*(x-a.at)/(p.at-a.at)
		}
	}
	return curve[len(curve)-1].value
}

var riseConstants = sync.OnceValue(func() []point {
	return eachRow(temperatureRiseConstantFile, func(t table, row int) point {
		return point{math.Log(t.figure(row, "surface")), math.Log(t.figure(row, "k"))}
	})
})

var riseConstantSource = sync.OnceValue(func() explain.Source { return dataFile(temperatureRiseConstantFile).sourceOf(0, "") })

// RiseConstant returns the enclosure constant k of IEC TR 60890 for an enclosure without openings, by its effective cooling surface: the rise at
// mid-height in kelvin is k times the power in watts to 0.804. Between the table's rows it is read on logarithmic scales, as the curves are drawn.
// The error says where the table ends: 0.08 to 12 m².
func RiseConstant(surface quantity.Area) (quantity.Factor, explain.Source, error) {
	curve := riseConstants()
	if len(curve) == 0 {
		return 0, explain.Source{}, fmt.Errorf("the table of enclosure constants is empty")
	}
	x := math.Log(float64(surface))
	if math.IsNaN(x) || x < curve[0].at-1e-9 || x > curve[len(curve)-1].at+1e-9 {
		return 0, explain.Source{}, fmt.Errorf("the method is for effective surfaces of 0.08 to 12 m² (0.86 to 129 ft²)")
	}
	return quantity.Factor(math.Exp(along(curve, x))), riseConstantSource(), nil
}

// smallSurface is the effective surface up to which IEC TR 60890 takes an enclosure as a small one.
const smallSurface quantity.Area = 1.25

// SmallEnclosure reports whether IEC TR 60890 treats the enclosure as a small one, whose top temperature holds from three quarters of its height up.
func SmallEnclosure(surface quantity.Area) bool { return surface <= smallSurface }

type distribution struct {
	curves map[string][]point
	source explain.Source
}

var distributions = sync.OnceValue(func() distribution {
	t := dataFile(temperatureDistributionFile)
	d := distribution{map[string][]point{}, t.sourceOf(0, "")}
	for row := range t.rows {
		name := t.text(row, "curve")
		d.curves[name] = append(d.curves[name], point{t.figure(row, "shape"), t.figure(row, "c")})
	}
	for _, c := range d.curves {
		slices.SortFunc(c, func(a, b point) int { return int(math.Copysign(1, a.at-b.at)) })
	}
	return d
})

// TopFactor returns the temperature distribution factor c of IEC TR 60890 for an enclosure without openings: how many times the rise at mid-height
// the air at the top is warmer than outside. Beyond the curves' ends their last figure is taken. The error says what isn't known.
func TopFactor(surface quantity.Area, height, width, depth quantity.Length, mounted string) (quantity.Factor, explain.Source, error) {
	if height <= 0 || width <= 0 || depth <= 0 {
		return 0, explain.Source{}, fmt.Errorf("height, width and depth must be above zero")
	}
	factors, ok := SurfaceFactorsOf(mounted)
	if !ok {
		return 0, explain.Source{}, fmt.Errorf("%q is no way of mounting that the table knows", mounted)
	}
	name, shape := "small", float64(height/width)
	if !SmallEnclosure(surface) {
		name, shape = factors.Curve, math.Pow(float64(height), 1.35)/(float64(width)*float64(depth))
	}
	curve := distributions().curves[name]
	if len(curve) == 0 {
		return 0, explain.Source{}, fmt.Errorf("the table of temperature distributions lacks the curve %s", name)
	}
	return quantity.Factor(along(curve, shape)), distributions().source, nil
}
