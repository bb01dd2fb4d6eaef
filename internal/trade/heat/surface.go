package heat

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

// wallTransfer is the coefficient of the wall. Thin air counts from 1000 m up, as it does for drives: the half of it that convection carries goes with
// the square root of the pressure, the half that is radiated doesn't change.
var wallTransfer = &explain.Formula{
	Name: "wall-heat-transfer", Title: "heat that the wall of a box passes in still air",
	Words: "table, {material} at {altitude}",
	Inputs: []explain.Parameter{
		{Name: "material", Kind: quantity.KindText, Help: "of the walls", Example: "painted steel", Choices: catalogue.WallMaterials()},
		altitudeParameter,
	},
	Result: quantity.KindHeatTransfer, Source: explain.Source{Work: "enclosure makers' climate chapters and the trade press"},
	Compute: explain.Of2(func(material quantity.Text, altitude quantity.Length) (explain.Answer, error) {
		w, ok := catalogue.WallOf(string(material))
		if !ok {
			return explain.Answer{}, fmt.Errorf("%q is no wall that the table knows; it has %s", string(material), strings.Join(catalogue.WallMaterials(), ", "))
		}
		if altitude <= thinAir {
			return explain.Answer{Value: w.Coefficient, Source: w.Source, Looked: true}, nil
		}
		return explain.Answer{Value: w.Coefficient * quantity.HeatTransfer(0.5+0.5*math.Sqrt(float64(pressureAt(altitude)/seaLevel))), Source: w.Source,
			Words: "table, {material}, × (½ + ½ × √(air pressure at {altitude} ÷ at sea level)): thin air carries less off, radiation stays"}, nil
	}),
}

// thinAir is the altitude up to which thin air is left out of account, for walls as for drives.
const thinAir quantity.Length = 1000

// factorOf returns the factor of the face.
func factorOf(s catalogue.SurfaceFactors, f Face) quantity.Factor {
	switch f {
	case Front:
		return s.Front
	case Back:
		return s.Back
	case Left:
		return s.Left
	case Right:
		return s.Right
	case Top:
		return s.Top
	case Bottom:
		return s.Bottom
	}
	return 0
}

var effectiveSurface = &explain.Formula{
	Name: "cooling-surface", Title: "effective cooling surface of a box",
	Words: "each face of {height} × {width} × {depth} times its factor for {mounted}: 0.9 free, 0.5 covered, top 1.4 (covered 0.7), bottom 0; without {faces left out}",
	Inputs: []explain.Parameter{boxHeightParameter, boxWidthParameter, boxDepthParameter, mountedParameter,
		{Name: "faces left out", Kind: quantity.KindText, Help: "that give off no heat at all, with commas between, or none", Example: "none", Default: "none"}},
	Result: quantity.KindArea, Source: surfaceSource,
	Compute: explain.Of5(func(h, w, d quantity.Length, mounted, out quantity.Text) (explain.Answer, error) {
		if h <= 0 || w <= 0 || d <= 0 {
			return explain.Answer{}, fmt.Errorf("height, width and depth must be above zero")
		}
		factors, ok := catalogue.SurfaceFactorsOf(string(mounted))
		if !ok {
			return explain.Answer{}, fmt.Errorf("%q is no way of mounting that the table knows; it has %s", string(mounted), strings.Join(catalogue.MountedWords(), ", "))
		}
		left, err := faceWords(out)
		if err != nil {
			return explain.Answer{}, err
		}
		areas := map[Face]quantity.Length{Front: h * w, Back: h * w, Left: h * d, Right: h * d, Top: w * d, Bottom: w * d}
		var sum quantity.Area
		for _, f := range Faces() {
			if !slices.Contains(left, f) {
				sum += quantity.Scale(quantity.Area(areas[f]), factorOf(factors, f))
			}
		}
		if sum <= 0 {
			return explain.Answer{}, errNoCoolingSurface
		}
		return explain.Answer{Value: sum, Source: factors.Source}, nil
	}),
}

// faceWords reads "back, top"; none for no face.
func faceWords(text quantity.Text) ([]Face, error) {
	var list []Face
	for word := range strings.SplitSeq(string(text), ",") {
		f := Face(strings.TrimSpace(word))
		switch {
		case f == "none" || f == "":
		case slices.Contains(Faces(), f):
			list = append(list, f)
		default:
			return nil, fmt.Errorf("%q is no face; the faces are front, back, left, right, top, bottom", string(f))
		}
	}
	return list, nil
}

// surface fills the walls.
func surface(r *Result) {
	r.Surface = coolingSurface("", r.Box, r.Box.coveredFaces())
	r.Wall = explain.Derive[quantity.Conductance](faceConductance, "conductance of the walls", r.Transfer, r.Surface)
}

// coolingSurface is the effective surface of the box without the faces; the words behind its name tell it from others.
func coolingSurface(words string, b Box, without []Face) explain.Known[quantity.Area] {
	out := quantity.Text("none")
	if len(without) > 0 {
		var list []string
		for _, f := range without {
			list = append(list, string(f))
		}
		out = quantity.Text(strings.Join(list, ", "))
	}
	left := explain.Chosen("faces left out"+words, out, "faces that are covered or at a warm neighbour", surfaceSource)
	return explain.Derive[quantity.Area](effectiveSurface, "cooling surface of the box"+words, b.Height, b.Width, b.Depth, b.Mounted, left)
}
