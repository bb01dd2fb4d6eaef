package plan

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/input/job"
	"drivewright/internal/trade/box"
	"drivewright/internal/trade/heat"
	"drivewright/internal/trade/metalwork"
	"drivewright/internal/trade/site"
)

// settle derives what follows from the size of the box, and judges it: the heat in it, its bolts and its place on the machine.
func (p *Plan) settle() []explain.Finding {
	set := p.Power.Code.Set
	p.Site = site.Find(standing(p))
	found := explain.Judge(site.Rules(), set, p.Site)
	p.Heat = nil
	if b, ok := warmth(p); ok {
		warm := heat.Work(b)
		p.Heat = &warm
		found = append(found, explain.Judge(heat.Rules(), set, warm)...)
	}
	return append(found, p.metal()...)
}

// settleArranged settles anew what was settled before the arrangement was there, marks its faces out, and returns what is found of both.
func (p *Plan) settleArranged() []explain.Finding {
	old := map[string]bool{}
	for _, r := range heat.Rules() {
		old[r.Name] = true
	}
	for _, r := range metalwork.Rules() {
		old[r.Name] = true
	}
	for _, r := range site.Rules() {
		old[r.Name] = true
	}
	p.Findings = slices.DeleteFunc(p.Findings, func(f explain.Finding) bool { return old[f.Rule] })
	marked := metalwork.Mark(markingOut(p))
	p.Marked = &marked
	return append(explain.Judge(metalwork.HoleRules(), p.Power.Code.Set, marked), p.settle()...)
}

// ByArrangement reports whether the rule judges what only an arrangement shows: bodies in their places, and holes.
func ByArrangement(rule string) bool {
	return slices.ContainsFunc(box.Rules(), func(r explain.Rule[box.Result]) bool { return r.Name == rule }) ||
		slices.ContainsFunc(metalwork.HoleRules(), func(r explain.Rule[metalwork.Result]) bool { return r.Name == rule })
}

// boxAsked reports whether the job says anything of the box: what nobody has said anything of can't be wrong yet.
func boxAsked(j *job.Job) bool {
	if len(j.Sizes)+len(j.Parts)+len(j.CableIn)+len(j.OwnHoles)+len(j.Bolts) > 0 {
		return true
	}
	for _, section := range []string{"enclosure", "marking out"} {
		for _, e := range j.Entries(section) {
			if e.Reason.There() || e.Reason.Span.Known() {
				return true
			}
		}
	}
	return false
}
