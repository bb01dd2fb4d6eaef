package plan

import (
	"slices"

	"drivewright/internal/base/explain"
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
