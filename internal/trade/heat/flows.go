package heat

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

var faceHeat = &explain.Formula{
	Name: "face-heat", Title: "heat that leaves a box through one face",
	Words: "{coefficient} × {area} × {factor} × {rise}",
	Inputs: []explain.Parameter{coefficientParameter, faceAreaParameter,
		{Name: "factor", Kind: quantity.KindFactor, Help: "of the face: 0.9 free, 0.5 covered, top 1.4", Example: "0.9"}, riseParameter},
	Result: quantity.KindPower, Source: surfaceSource,
	Compute: explain.Of4(func(k quantity.HeatTransfer, a quantity.Area, b quantity.Factor, d quantity.TemperatureRise) (explain.Answer, error) {
		return explain.Is(passed(conductance(k, quantity.Scale(a, b)), d))
	}),
}

// flows fills where the heat comes from and goes. With a fan the filter is clean.
func flows(r *Result) {
	if !r.Rise.OK() {
		return
	}
	b := &r.Box
	for _, p := range b.Parts {
		if p.Loss.OK() {
			r.Flows = append(r.Flows, Flow{p.Name, FromPart, p.Loss})
		}
	}
	if r.SunHeat.OK() {
		r.Flows = append(r.Flows, Flow{"sun", FromSun, r.SunHeat})
	}
	if n := b.Neighbour.Temperature; r.heats(r.Rise) {
		r.Flows = append(r.Flows, Flow{"neighbour", FromNeighbour, explain.Derive[quantity.Power](neighbourPush, "heat that the neighbour brings", r.Touch, n, r.Inside)})
	}
	factors, _ := catalogue.SurfaceFactorsOf(string(b.Mounted.Value))
	covered := b.coveredFaces()
	for _, f := range Faces() {
		factor := factorOf(factors, f)
		if factor == 0 || slices.Contains(covered, f) {
			continue
		}
		of := explain.Constant("factor of the "+string(f), factor, factors.Source)
		r.Flows = append(r.Flows, Flow{string(f), ThroughFace, explain.Derive[quantity.Power](faceHeat, "heat through the "+string(f), r.Transfer, b.area(f), of, r.Rise)})
	}
	const name = "heat that the air takes along"
	switch r.Cooling.Value {
	case byFan:
		r.Flows = append(r.Flows, Flow{"fan", ByAir, explain.Derive[quantity.Power](airHeatFormula, name, b.Fan.Flow, r.Rise, b.Ambient, b.Altitude)})
	case byVents:
		r.Flows = append(r.Flows, Flow{"vents", ByAir, explain.Derive[quantity.Power](airHeatFormula, name, r.Vented.Flow, r.Rise, b.Ambient, b.Altitude)})
	}
}
