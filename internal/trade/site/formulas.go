package site

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// Formulas returns the relations that can be run by themselves.
func Formulas() []*explain.Formula { return slices.Clone([]*explain.Formula{handleHeight, cableWay}) }

var handleHeight = &explain.Formula{
	Name: "handle-height", Title: "height of a handle above the floor", Words: "{lower edge} + {handle on the box}",
	Inputs: []explain.Parameter{{Name: "lower edge", Kind: quantity.KindLength, Help: "of the box above the floor", Example: "1.2 m"}, {Name: "handle on the box", Kind: quantity.KindLength, Help: "above that edge", Example: "300 mm"}},
	Result: quantity.KindLength, Source: explain.Physics("sum"),
	Compute: explain.Of2(func(edge, up quantity.Length) (explain.Answer, error) { return explain.Is(edge + up) }),
}

var cableWay = &explain.Formula{
	Name: "cable-way", Title: "length of a cable that is clipped along the machine", Words: "{along x, y and z} + {both ends}",
	Inputs: []explain.Parameter{{Name: "along x, y and z", Kind: quantity.KindLength, Help: "summed up: cables are clipped along edges", Example: "2.4 m"}, {Name: "both ends", Kind: quantity.KindLength, Help: "loop and tails", Example: "0.5 m", Default: "0.5 m"}},
	Result: quantity.KindLength, Source: explain.Practice("wiring: along edges, with a loop at the gland"),
	Compute: explain.Of2(func(along, ends quantity.Length) (explain.Answer, error) { return explain.Is(along + ends) }),
}
