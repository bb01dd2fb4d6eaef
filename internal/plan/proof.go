package plan

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"reflect"

	"drivewright/internal/base/explain"
	"drivewright/internal/input/job"
	"drivewright/internal/trade/circuit"
	"drivewright/internal/trade/prove"
)

// File returns the job file that the plan was made from.
func (p *Plan) File() *job.File { return p.file }

// ProofOf works out the Prove stage of a circuit, without judging it. It takes a part of a second and changes nothing, so that it
// can run beside other work.
func ProofOf(c *circuit.Circuit) prove.Proof {
	return prove.Proof{Report: prove.Break(c, false), Meter: prove.Meter(c)}
}

// CircuitMark returns a word that is the same for two plans exactly when their circuits are the same in everything but the
// places in the job file: then a proof worked out for one is the other's too. What an arrangement adds later, the lengths of the wires in
// the box, doesn't count: the mark stays what it was before.
func (p *Plan) CircuitMark() string {
	if p.circuitMark != "" {
		return p.circuitMark
	}
	sum := sha256.New()
	writeContent(sum, reflect.ValueOf(p.Circuit.Circuit))
	return hex.EncodeToString(sum.Sum(nil)[:12])
}

// writeContent writes every field, each closed so that no two contents give the same bytes. Of a reason only the origin counts:
// it tells a value that isn't known from nought.
func writeContent(sum hash.Hash, v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		for n := range v.NumField() {
			writeContent(sum, v.Field(n))
		}
	case reflect.Slice, reflect.Array:
		fmt.Fprintf(sum, "[%d;", v.Len())
		for n := range v.Len() {
			writeContent(sum, v.Index(n))
		}
	case reflect.Pointer:
		origin := explain.Missing
		if v.Type() == reflect.TypeFor[*explain.Reason]() && !v.IsNil() {
			origin = explain.Origin(v.Elem().FieldByName("Origin").Int())
		}
		fmt.Fprintf(sum, "^%d;", origin)
	case reflect.String:
		fmt.Fprintf(sum, "%q;", v.String())
	default:
		fmt.Fprintf(sum, "%v;", v) // numbers and truths
	}
}

// TakeProof takes over a proof that was worked out for a plan with the same CircuitMark, and judges it. The places in it become
// those of this plan's file, where the same things may stand on other lines by now. The proof itself isn't changed.
func (p *Plan) TakeProof(proof prove.Proof) {
	places := map[string]*explain.Reason{}
	for _, r := range p.Values() {
		places[r.ID()] = r
	}
	here := func(faults []prove.Fault) []prove.Fault {
		moved := make([]prove.Fault, len(faults))
		for n, f := range faults {
			if f.Place != nil {
				f.Place = placeHere(places, f.Place)
			}
			moved[n] = f
		}
		return moved
	}
	proof.Report.Whole, proof.Report.Faults = here(proof.Report.Whole), here(proof.Report.Faults)
	if proof.Report.Pairs != nil {
		proof.Report.Pairs = here(proof.Report.Pairs)
	}
	p.Proof = &proof
	p.judged(explain.Judge(prove.Rules(), p.Power.Code.Set, proof))
}

// placeHere returns this plan's reason of the name; without one, the old reason without its place, so that the finding stands
// at its section.
func placeHere(places map[string]*explain.Reason, old *explain.Reason) *explain.Reason {
	if r := places[old.ID()]; r != nil && r.Path == old.Path {
		return r
	}
	lost := *old
	lost.Span, lost.Inputs = explain.Span{}, nil
	return &lost
}
