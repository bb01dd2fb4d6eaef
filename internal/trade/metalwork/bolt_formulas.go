package metalwork

import (
	"fmt"
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// boltFormulas are the relations of bolts and threads, in the order of the sheet.
var boltFormulas = []*explain.Formula{shockLoad, tippingMoment, boltShear, boltTension, threadStressArea, combinedStress, shareOfProof, threadHolds, threadShareUsed, leastEngagement,
	drillDepth, leastEdge, torqueCoefficient, boltPreload, tighteningTorque, boltAreaNeeded, preloadedStress, turnOfNut, warmLength, heatToLoosen, threadCut}

// gravity is the standard acceleration of fall in m/s². Source: ISO 80000-3.
const gravity = 9.80665

func par(name string, kind quantity.Kind, help, example string) explain.Parameter {
	return explain.Parameter{Name: name, Kind: kind, Help: help, Example: example}
}

var (
	shigley  = explain.Source{Work: "Shigley, Mechanical Engineering Design", Place: "bolted joints", Trust: explain.FromMemory}
	jindal   = explain.Source{Work: "Jindal, Machine Design", Place: "chapter 9"}
	wentzell = explain.Source{Work: "Wentzell, Machine Design", Place: "chapter 6"}
)

var shockLoad = &explain.Formula{
	Name: "shock-load", Title: "force of a weight that is shaken", Words: "{weight} × 9.81 m/s² × {shock factor}",
	Inputs: []explain.Parameter{par("weight", quantity.KindMass, "of what hangs there", "35 lb"), par("shock factor", quantity.KindFactor, "how many times its weight", "3")},
	Result: quantity.KindForce, Source: explain.Physics("Newton's second law"),
	Compute: explain.Of2(func(m quantity.Mass, k quantity.Factor) (explain.Answer, error) {
		return explain.Is(quantity.Force(float64(m) * gravity * float64(k)))
	}),
}

var tippingMoment = &explain.Formula{
	Name: "tipping-moment", Title: "moment that tips a box about its lower edge", Words: "{load} × {overhang} + {push} × {height of the push}",
	Inputs: []explain.Parameter{par("load", quantity.KindForce, "downwards", "467 N"), par("overhang", quantity.KindLength, "from the bolted face to the middle of its weight", "5 in"),
		par("push", quantity.KindForce, "outwards, at the top", "50 lbf"), par("height of the push", quantity.KindLength, "above the lower edge", "16 in")},
	Result: quantity.KindTorque, Source: explain.Physics("moments about an edge"),
	Compute: explain.Of4(func(v quantity.Force, a quantity.Length, p quantity.Force, h quantity.Length) (explain.Answer, error) {
		return explain.Is(quantity.Torque(float64(v)*float64(a) + float64(p)*float64(h)))
	}),
}

var boltShear = &explain.Formula{
	Name: "bolt-shear", Title: "shear on one bolt of a group that is loaded off its middle",
	Words: "{load} ÷ {bolts} straight down, and {load} × {off middle} × its distance from the middle ÷ {sum of squares} across that, added as arrows: for a bolt {to the right} to the right of the middle and {above} above it",
	Inputs: []explain.Parameter{par("load", quantity.KindForce, "downwards", "16 kN"), par("bolts", quantity.KindCount, "how many", "4"), par("off middle", quantity.KindLength, "of the load, to the right of the bolts' middle", "425 mm"),
		par("to the right", quantity.KindLength, "of the bolts' middle, negative to the left", "75 mm"), par("above", quantity.KindLength, "the bolts' middle, negative below", "60 mm"),
		par("sum of squares", quantity.KindArea, "of all bolts' distances from their middle", "36900 mm²")},
	Result: quantity.KindForce, Source: shigley,
	Compute: explain.Of6(func(v quantity.Force, n quantity.Count, e, x, y quantity.Length, sum quantity.Area) (explain.Answer, error) {
		switch {
		case n < 1:
			return explain.Answer{}, fmt.Errorf("there is no bolt")
		case sum <= 0 && math.Abs(float64(e)) > 1e-6:
			return explain.Answer{}, fmt.Errorf("one bolt alone lets it swing: two at least hold a load off their middle")
		case sum <= 0:
			return explain.Answer{Value: v / quantity.Force(n), Words: "{load} ÷ {bolts}"}, nil
		}
		turn := float64(v) * float64(e) / float64(sum)
		return explain.Is(quantity.Force(math.Hypot(turn*float64(y), float64(v)/float64(n)+turn*float64(x))))
	}),
}

var boltTension = &explain.Formula{
	Name: "bolt-tension", Title: "pull on one bolt of a group that is tipped about its lower edge", Words: "{tipping moment} × {height} ÷ {sum of squares} + {push} ÷ {bolts}",
	Inputs: []explain.Parameter{par("tipping moment", quantity.KindTorque, "about the lower edge", "150 N m"), par("height", quantity.KindLength, "of this bolt above that edge", "300 mm"),
		par("sum of squares", quantity.KindArea, "of all bolts' heights", "0.2 m²"), par("push", quantity.KindForce, "outwards on all of them", "220 N"), par("bolts", quantity.KindCount, "how many", "4")},
	Result: quantity.KindForce, Source: shigley,
	Compute: explain.Of5(func(m quantity.Torque, h quantity.Length, sum quantity.Area, p quantity.Force, n quantity.Count) (explain.Answer, error) {
		if sum <= 0 || n < 1 {
			return explain.Answer{}, fmt.Errorf("no bolt is above the edge that it tips about")
		}
		return explain.Is(quantity.Force(float64(m)*max(0, float64(h))/float64(sum) + float64(p)/float64(n)))
	}),
}

var threadStressArea = &explain.Formula{
	Name: "thread-stress-area", Title: "metal of a bolt that carries a pull", Words: "π ÷ 4 × ({diameter} − 0.9382 × {pitch})²",
	Inputs: []explain.Parameter{par("diameter", quantity.KindLength, "over the thread", "16 mm"), par("pitch", quantity.KindLength, "from thread to thread", "2 mm")},
	Result: quantity.KindArea, Source: explain.Source{Work: "ISO 898-1", Place: "nominal stress area", Trust: explain.FromMemory},
	Compute: explain.Of2(func(d, p quantity.Length) (explain.Answer, error) {
		if d <= p || p <= 0 {
			return explain.Answer{}, fmt.Errorf("the diameter must be more than the pitch")
		}
		return explain.Is(quantity.Area(math.Pi / 4 * square(float64(d)-0.9382*float64(p))))
	}),
}

var combinedStress = &explain.Formula{
	Name: "bolt-combined-stress", Title: "stress in a bolt that is pulled and sheared", Words: "√(({pull} ÷ {area})² + 3 × ({shear} ÷ {area})²)",
	Inputs: []explain.Parameter{par("pull", quantity.KindForce, "along the bolt", "1 kN"), par("shear", quantity.KindForce, "across it", "500 N"), par("area", quantity.KindArea, "its stress area", "36.6 mm²")},
	Result: quantity.KindPressure, Source: explain.Physics("distortion-energy criterion (von Mises)"),
	Compute: explain.Of3(func(t, s quantity.Force, a quantity.Area) (explain.Answer, error) {
		if a <= 0 {
			return explain.Answer{}, fmt.Errorf("the area must be more than nothing")
		}
		return explain.Is(quantity.Pressure(math.Sqrt(square(float64(t))+3*square(float64(s))) / float64(a)))
	}),
}

var shareOfProof = &explain.Formula{
	Name: "bolt-used", Title: "share of what a bolt may carry that is used", Words: "2 × {stress} ÷ {proof stress}",
	Inputs: []explain.Parameter{par("stress", quantity.KindPressure, "in the bolt, with the shock", "60 MPa"), par("proof stress", quantity.KindPressure, "of its grade", "580 MPa")},
	Result: quantity.KindRatio, Source: explain.Practice("half the proof stress, on top of the shock factor"),
	Compute: explain.Of2(func(s, proof quantity.Pressure) (explain.Answer, error) {
		if proof <= 0 {
			return explain.Answer{}, fmt.Errorf("the proof stress must be more than nothing")
		}
		return explain.Is(quantity.Ratio(2 * float64(s) / float64(proof)))
	}),
}

var threadHolds = &explain.Formula{
	Name: "thread-pull-out", Title: "pull that tears a thread out of the metal", Words: "π × {diameter} × 7/8 × ({thread} − {pitch}) × {shear strength}",
	Inputs: []explain.Parameter{par("diameter", quantity.KindLength, "of the bolt", "8 mm"), par("pitch", quantity.KindLength, "one is lost at the ends", "1.25 mm"), par("thread", quantity.KindLength, "that holds", "12 mm"),
		par("shear strength", quantity.KindPressure, "of the metal", "150 MPa")},
	Result: quantity.KindForce, Source: explain.Source{Work: "FED-STD-H28", Place: "internal thread shear area, basic dimensions", Trust: explain.FromMemory},
	Compute: explain.Of4(func(d, p, l quantity.Length, shear quantity.Pressure) (explain.Answer, error) {
		return explain.Is(quantity.Force(math.Pi * float64(d) * 7 / 8 * max(0, float64(l-p)) * float64(shear)))
	}),
}

var threadShareUsed = &explain.Formula{
	Name: "thread-used", Title: "share of what the thread in the metal may carry that is used", Words: "3 × {pull} ÷ {pull-out}",
	Inputs: []explain.Parameter{par("pull", quantity.KindForce, "on the bolt, with the shock", "1 kN"), par("pull-out", quantity.KindForce, "that tears the thread out", "30 kN")},
	Result: quantity.KindRatio, Source: explain.Practice("a third of the pull-out: the strength of an old casting isn't known"),
	Compute: explain.Of2(func(t, holds quantity.Force) (explain.Answer, error) {
		if holds <= 0 {
			return explain.Answer{}, fmt.Errorf("no thread holds: it is shorter than one turn")
		}
		return explain.Is(quantity.Ratio(3 * float64(t) / float64(holds)))
	}),
}

var leastEngagement = &explain.Formula{
	Name: "least-thread", Title: "least length of thread in a metal", Words: "{diameters} × {diameter}",
	Inputs: []explain.Parameter{par("diameter", quantity.KindLength, "of the bolt", "8 mm"), par("diameters", quantity.KindFactor, "1.25 in cast iron, 1 in steel, 2 in aluminium", "1.25")},
	Result: quantity.KindLength, Source: explain.Practice("thread engagement"),
	Compute: explain.Of2(func(d quantity.Length, k quantity.Factor) (explain.Answer, error) {
		return explain.Is(quantity.Scale(d, k))
	}),
}

var drillDepth = &explain.Formula{
	Name: "blind-drill-depth", Title: "how deep a blind hole is drilled for a thread", Words: "{thread} + 3 × {pitch} for the tap's lead + 0.3 × {tap drill} for the drill's point",
	Inputs: []explain.Parameter{par("thread", quantity.KindLength, "full thread", "12 mm"), par("pitch", quantity.KindLength, "of it", "1.25 mm"), par("tap drill", quantity.KindLength, "with a point of 118°", "6.8 mm")},
	Result: quantity.KindLength, Source: explain.Practice("tapping blind holes"),
	Compute: explain.Of3(func(l, p, d quantity.Length) (explain.Answer, error) {
		// the point of a 118° drill is d ÷ 2 ÷ tan 59° high
		return explain.Is(l + 3*p + d/2/quantity.Length(math.Tan(59*math.Pi/180)))
	}),
}

var leastEdge = &explain.Formula{
	Name: "bolt-to-edge", Title: "least distance from a bolt's middle to an edge", Words: "{diameters} × {diameter}",
	Inputs: []explain.Parameter{par("diameter", quantity.KindLength, "of the bolt", "8 mm"), par("diameters", quantity.KindFactor, "2 in cast iron and aluminium, 1.5 in steel", "2")},
	Result: quantity.KindLength, Source: explain.Practice("edge distance of bolts"),
	Compute: explain.Of2(func(d quantity.Length, k quantity.Factor) (explain.Answer, error) {
		return explain.Is(quantity.Scale(d, k))
	}),
}

var torqueCoefficient = &explain.Formula{
	Name: "torque-coefficient", Title: "torque coefficient of a bolt from its friction", Words: "mean radius over {diameter}, with the slope of {pitch}, {thread friction} on 30° flanks, and 0.625 × {head friction}",
	Inputs: []explain.Parameter{par("diameter", quantity.KindLength, "of the bolt", "18 mm"), par("pitch", quantity.KindLength, "of its thread", "2.5 mm"), par("thread friction", quantity.KindFactor, "0.12 to 0.2", "0.15"),
		par("head friction", quantity.KindFactor, "under head or nut", "0.13")},
	Result: quantity.KindFactor, Source: jindal.At("example 9-3"),
	Compute: explain.Of4(func(d, p quantity.Length, thread, head quantity.Factor) (explain.Answer, error) {
		// half way between the thread's outside and its root, d − 1.2268 p
		mean := float64(d) - 0.6134*float64(p)
		if mean <= 0 || p <= 0 {
			return explain.Answer{}, fmt.Errorf("the diameter must be more than the pitch")
		}
		slope, grip := float64(p)/(math.Pi*mean), float64(thread)/math.Cos(math.Pi/6)
		return explain.Is(quantity.Factor(mean/(2*float64(d))*(slope+grip)/(1-slope*grip) + 0.625*float64(head)))
	}),
}

var boltPreload = &explain.Formula{
	Name: "bolt-preload", Title: "force that a bolt is tightened to", Words: "the less of 75 % of {proof stress} × {area} and half of {pull-out}",
	Inputs: []explain.Parameter{par("proof stress", quantity.KindPressure, "of its grade", "580 MPa"), par("area", quantity.KindArea, "its stress area", "36.6 mm²"), par("pull-out", quantity.KindForce, "of the thread in the metal", "30 kN")},
	Result: quantity.KindForce, Source: explain.Practice("75 % of proof for joints that are undone again; half of what a casting's thread holds"),
	Compute: explain.Of3(func(proof quantity.Pressure, a quantity.Area, holds quantity.Force) (explain.Answer, error) {
		bolt := quantity.Force(0.75 * float64(proof) * float64(a))
		if holds/2 < bolt {
			return explain.Answer{Value: holds / 2, Words: "half of {pull-out}, as that is less than 75 % of {proof stress} × {area}"}, nil
		}
		return explain.Answer{Value: bolt, Words: "75 % of {proof stress} × {area}"}, nil
	}),
}

var tighteningTorque = &explain.Formula{
	Name: "tightening-torque", Title: "torque that tightens a bolt to a force", Words: "{torque coefficient} × {diameter} × {force}",
	Inputs: []explain.Parameter{par("torque coefficient", quantity.KindFactor, "0.2 dry, 0.15 oiled", "0.2"), par("diameter", quantity.KindLength, "of the bolt", "3/4 in"), par("force", quantity.KindForce, "in the bolt", "24131.5 lbf")},
	Result: quantity.KindTorque, Source: wentzell.At("example 6.1"),
	Compute: explain.Of3(func(k quantity.Factor, d quantity.Length, f quantity.Force) (explain.Answer, error) {
		return explain.Is(quantity.Torque(float64(k) * float64(d) * float64(f)))
	}),
}

var boltAreaNeeded = &explain.Formula{
	Name: "bolt-area-needed", Title: "stress area that each bolt of a group wants", Words: "{load} ÷ {bolts} ÷ {allowed stress}",
	Inputs: []explain.Parameter{par("load", quantity.KindForce, "shared alike", "20 kN"), par("bolts", quantity.KindCount, "how many", "4"), par("allowed stress", quantity.KindPressure, "in each", "80 MPa")},
	Result: quantity.KindArea, Source: jindal.At("example 9-2"),
	Compute: explain.Of3(func(f quantity.Force, n quantity.Count, s quantity.Pressure) (explain.Answer, error) {
		if n < 1 || s <= 0 {
			return explain.Answer{}, fmt.Errorf("it wants a bolt and a stress")
		}
		return explain.Is(quantity.Area(float64(f) / float64(n) / float64(s)))
	}),
}

var preloadedStress = &explain.Formula{
	Name: "preloaded-bolt-stress", Title: "stress in a tightened bolt under a load from outside", Words: "({force} + {share} × {load}) ÷ {area}",
	Inputs: []explain.Parameter{par("force", quantity.KindForce, "that it was tightened to", "120 kN"), par("load", quantity.KindForce, "from outside", "30 kN"), par("share", quantity.KindFactor, "of the load that reaches the bolt", "0.35"), par("area", quantity.KindArea, "its stress area", "245 mm²")},
	Result: quantity.KindPressure, Source: jindal.At("example 9-6"),
	Compute: explain.Of4(func(f, p quantity.Force, c quantity.Factor, a quantity.Area) (explain.Answer, error) {
		if a <= 0 {
			return explain.Answer{}, fmt.Errorf("the area must be more than nothing")
		}
		return explain.Is(quantity.Pressure((float64(f) + float64(c)*float64(p)) / float64(a)))
	}),
}

var turnOfNut = &explain.Formula{
	Name: "turn-of-nut", Title: "turn from snug that stretches a bolt to a force", Words: "{force} × {grip} ÷ ({area} × {modulus}) ÷ {pitch}",
	Inputs: []explain.Parameter{par("force", quantity.KindForce, "in the bolt", "24131.5 lbf"), par("grip", quantity.KindLength, "clamped length", "5 in"), par("area", quantity.KindArea, "its stress area", "0.334 in²"), par("modulus", quantity.KindPressure, "207000 MPa for steel", "207000 MPa"),
		par("pitch", quantity.KindLength, "of its thread", "0.1 in")},
	Result: quantity.KindRatio, Source: wentzell.At("example 6.2"),
	Compute: explain.Of5(func(f quantity.Force, l quantity.Length, a quantity.Area, e quantity.Pressure, p quantity.Length) (explain.Answer, error) {
		if a <= 0 || e <= 0 || p <= 0 {
			return explain.Answer{}, fmt.Errorf("area, modulus and pitch must be more than nothing")
		}
		return explain.Is(quantity.Ratio(float64(f) * float64(l) / (float64(a) * float64(e)) / float64(p)))
	}),
}

var warmLength = &explain.Formula{
	Name: "warm-length", Title: "length of a part that has got warmer", Words: "{length} × (1 + {growth} ÷ 1000000 × {warmer})",
	Inputs: []explain.Parameter{par("length", quantity.KindLength, "cold", "400 mm"), par("growth", quantity.KindFactor, "parts in a million for each kelvin: steel 11.7, brass 19.3, aluminium 23", "19.3"), par("warmer", quantity.KindTemperatureRise, "by how much", "70 K")},
	Result: quantity.KindLength, Source: explain.Physics("thermal expansion"),
	Compute: explain.Of3(func(l quantity.Length, a quantity.Factor, t quantity.TemperatureRise) (explain.Answer, error) {
		return explain.Is(quantity.Length(float64(l) * (1 + float64(a)*1e-6*float64(t))))
	}),
}

var heatToLoosen = &explain.Formula{
	Name: "heat-to-loosen", Title: "how much warmer a bolt must be to be without force", Words: "{stretch} ÷ ({growth} ÷ 1000000 × {grip})",
	Inputs: []explain.Parameter{par("stretch", quantity.KindLength, "of the tightened bolt", "0.01204 in"), par("growth", quantity.KindFactor, "parts in a million for each kelvin: steel 11.7", "11.7"), par("grip", quantity.KindLength, "clamped length", "5 in")},
	Result: quantity.KindTemperatureRise, Source: wentzell.At("example 6.3"),
	Compute: explain.Of3(func(s quantity.Length, a quantity.Factor, l quantity.Length) (explain.Answer, error) {
		if a <= 0 || l <= 0 {
			return explain.Answer{}, fmt.Errorf("growth and grip must be more than nothing")
		}
		return explain.Is(quantity.TemperatureRise(float64(s) / (float64(a) * 1e-6 * float64(l))))
	}),
}

var threadCut = &explain.Formula{
	Name: "thread-cut", Title: "share of a full thread that a drilled hole leaves", Words: "({diameter} − {hole}) ÷ (1.299 × {pitch})",
	Inputs: []explain.Parameter{par("diameter", quantity.KindLength, "over the thread", "0.112 in"), par("hole", quantity.KindLength, "as drilled", "0.0935 in"), par("pitch", quantity.KindLength, "of the thread", "0.025 in")},
	Result: quantity.KindRatio, Source: explain.Source{Work: "Machinery's Handbook", Edition: "31", Place: "page 2155, table 2"},
	Compute: explain.Of3(func(d, h, p quantity.Length) (explain.Answer, error) {
		if p <= 0 {
			return explain.Answer{}, fmt.Errorf("the pitch must be more than nothing")
		}
		return explain.Is(quantity.Ratio(float64(d-h) / (1.299 * float64(p))))
	}),
}
