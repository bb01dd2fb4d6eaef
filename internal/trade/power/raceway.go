package power

import (
	"fmt"
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

// racewayFill fills r.Raceway: the conduit of the run, if it runs in one.
func racewayFill(r *Result) {
	w, s := &r.Raceway, &r.Job.Supply
	switch {
	case !r.Code.hasTables():
		*w = noRaceway(func(name string) *explain.Reason { return explain.Absent[quantity.Text](name, r.Code.Tables).Why() })
		return
	case !s.Raceway.Set:
		*w = noRaceway(func(name string) *explain.Reason {
			return explain.Absent[quantity.Text](name, explain.Say("write raceway, or that it is cable")).Why()
		})
		return
	case s.Raceway.Value == "cable":
		*w = noRaceway(func(name string) *explain.Reason {
			return explain.Needless[quantity.Text](name, explain.Say("the run is cable, without a raceway to fill")).Why()
		})
		return
	}
	raceway := job.Known(s.Raceway)
	carrying := explain.Renamed("circuit conductors in the raceway", r.Branch.Together)
	if neutral := job.Known(s.Neutral); neutral.Value == "yes" && r.Branch.Together.OK() {
		carrying = explain.Chosen("circuit conductors in the raceway", r.Branch.Together.Value+1, "{"+r.Branch.Together.Why().Name+"} and the neutral ({"+neutral.Why().Name+"})",
			explain.NEC("Chapter 9, note 3 to the tables; 310.15(E) for what carries current").Remembered(), r.Branch.Together, neutral)
	}
	w.Conductors = explain.Derive[quantity.Count](racewayConductors, "conductors in the raceway", carrying)
	each := explain.Derive[quantity.Area](insulatedArea, "area of one conductor over its insulation", r.Branch.Conductor, r.Branch.Insulation)
	ground := explain.Derive[quantity.Area](insulatedArea, "area of the grounding conductor over its insulation", r.Grounding.Conductor, r.Branch.Insulation)
	w.Area = explain.Derive[quantity.Area](conductorsArea, "area of the conductors in the raceway", each, carrying, ground)
	w.Limit = explain.Derive[quantity.Ratio](racewayLimit, "most fill of the raceway", w.Conductors)
	w.Size = explain.Derive[quantity.Text](smallestRaceway, "smallest raceway that passes", raceway, w.Area, w.Limit)
	size := explain.Renamed("raceway trade size", w.Size)
	if s.RacewaySize.Set {
		size = job.Known(s.RacewaySize)
	}
	total := explain.Derive[quantity.Area](racewayArea, "area of the raceway", raceway, size)
	w.Fill = explain.Derive[quantity.Ratio](racewayShare, "fill of the raceway", w.Area, total)
}

// noRaceway is the raceway of which nothing can be said, each value with the reason that why gives it.
func noRaceway(why func(name string) *explain.Reason) Raceway {
	return Raceway{
		Conductors: explain.Wrap[quantity.Count](why("conductors in the raceway")),
		Area:       explain.Wrap[quantity.Area](why("area of the conductors in the raceway")),
		Limit:      explain.Wrap[quantity.Ratio](why("most fill of the raceway")),
		Size:       explain.Wrap[quantity.Text](why("smallest raceway that passes")),
		Fill:       explain.Wrap[quantity.Ratio](why("fill of the raceway")),
	}
}

var (
	racewayKinds     = []string{"EMT", "RMC", "IMC", "PVC Schedule 40", "PVC Schedule 80", "FMC", "LFMC", "LFNC-B"}
	racewaySizeWords = []string{"3/8", "1/2", "3/4", "1", "1-1/4", "1-1/2", "2"}
	racewayParameter = explain.Parameter{Name: "raceway", Kind: quantity.KindText, Help: "kind of conduit or tubing", Example: "EMT", Choices: racewayKinds}
)

var insulatedArea = &explain.Formula{
	Name: "insulated-area", Title: "area of a conductor over its insulation", Words: "table area of {conductor} with {insulation}",
	Inputs: []explain.Parameter{sizeParameter, insulationParameter},
	Result: quantity.KindArea, Source: explain.NEC("Chapter 9 Table 5"),
	Compute: explain.Of2(func(size quantity.Conductor, letters quantity.Text) (explain.Answer, error) {
		a, source, ok := catalogue.InsulatedArea(size, string(letters))
		if !ok {
			return explain.Answer{}, fmt.Errorf("the table has no %s with %s", shown(size), letters)
		}
		return explain.Answer{Value: a, Looked: true, Source: source}, nil
	}),
}

var racewayConductors = &explain.Formula{
	Name: "raceway-conductors", Title: "conductors that count in a raceway", Words: "{circuit conductors} and the grounding conductor",
	Inputs: []explain.Parameter{{Name: "circuit conductors", Kind: quantity.KindCount, Help: "all but the grounding conductor", Example: "2", Default: "2"}},
	Result: quantity.KindCount, Source: explain.NEC("Chapter 9, note 3 to the tables"),
	Compute: explain.Of1(func(n quantity.Count) (explain.Answer, error) { return explain.Is(n + 1) }),
}

var conductorsArea = &explain.Formula{
	Name: "conductors-area", Title: "area of the conductors in a raceway", Words: "{circuit conductors} × {area of one} + {grounding conductor}",
	Inputs: []explain.Parameter{
		{Name: "area of one", Kind: quantity.KindArea, Help: "over its insulation", Example: "0.0211 in²"},
		{Name: "circuit conductors", Kind: quantity.KindCount, Help: "all but the grounding conductor, taken as all of this size", Example: "2"},
		{Name: "grounding conductor", Kind: quantity.KindArea, Help: "over its insulation", Example: "0.0211 in²"},
	},
	Result: quantity.KindArea, Source: explain.NEC("Chapter 9, notes 3 and 6 to the tables"),
	Compute: explain.Of3(func(each quantity.Area, n quantity.Count, ground quantity.Area) (explain.Answer, error) {
		return explain.Is(each*quantity.Area(n) + ground)
	}),
}

var racewayLimit = &explain.Formula{
	Name: "raceway-fill-limit", Title: "most of a raceway that conductors may fill", Words: "table percentage for {conductors}",
	Inputs: []explain.Parameter{{Name: "conductors", Kind: quantity.KindCount, Help: "all of them, the grounding conductor too", Example: "3"}},
	Result: quantity.KindRatio, Source: explain.NEC("Chapter 9 Table 1"),
	Compute: explain.Of1(func(n quantity.Count) (explain.Answer, error) {
		if n < 1 {
			return explain.Answer{}, fmt.Errorf("there is at least one conductor")
		}
		share, source := catalogue.RacewayFill(n)
		return explain.Answer{Value: share, Looked: true, Source: source}, nil
	}),
}

var racewayArea = &explain.Formula{
	Name: "raceway-area", Title: "total area of a raceway", Words: "table area of {raceway}, {trade size}",
	Inputs: []explain.Parameter{racewayParameter, tradeSizeParameter},
	Result: quantity.KindArea, Source: explain.NEC("Chapter 9 Table 4"),
	Compute: explain.Of2(func(kind, size quantity.Text) (explain.Answer, error) {
		w, ok := catalogue.RacewayOf(string(kind), string(size))
		if !ok {
			return explain.Answer{}, fmt.Errorf("the table has no %s of trade size %s", kind, size)
		}
		return explain.Answer{Value: w.Area, Looked: true, Source: w.Source}, nil
	}),
}

var racewayShare = &explain.Formula{
	Name: "raceway-fill", Title: "fill of a raceway", Words: "{area of the conductors} ÷ {area of the raceway}",
	Inputs: []explain.Parameter{
		conductorsAreaParameter,
		{Name: "area of the raceway", Kind: quantity.KindArea, Help: "inside", Example: "0.304 in²"},
	},
	Result: quantity.KindRatio, Source: explain.Physics("ratio"),
	Compute: explain.Of2(share[quantity.Area]("raceway's area")),
}

var smallestRaceway = &explain.Formula{
	Name: "smallest-raceway", Title: "smallest trade size of a raceway that holds the conductors", Words: "the smallest {raceway} that {area of the conductors} fills to {most fill} or less",
	Inputs: []explain.Parameter{racewayParameter,
		conductorsAreaParameter,
		{Name: "most fill", Kind: quantity.KindRatio, Help: "by the number of conductors", Example: "40 %", Default: "40 %"},
	},
	Result: quantity.KindText, Source: explain.NEC("Chapter 9 Tables 1 and 4"),
	Compute: explain.Of3(func(kind quantity.Text, area quantity.Area, most quantity.Ratio) (explain.Answer, error) {
		for _, w := range catalogue.RacewaySizes(string(kind)) {
			// The book's columns are rounded to a thousandth of a square inch, and so is the comparison.
			if area <= quantity.Scale(w.Area, most)+0.0005*quantity.SquareInch {
				return explain.Answer{Value: quantity.Text(w.Size), Source: w.Source}, nil
			}
		}
		return explain.Answer{}, fmt.Errorf("no %s of the table holds %s", kind, shown(area))
	}),
}

var mostConductors = &explain.Formula{
	Name: "most-conductors-in-raceway", Title: "most conductors of one size in a raceway", Words: "40 % of the area of {raceway}, {trade size} ÷ area of {conductor} with {insulation}, 0.8 and more counting as a whole one; two by 31 %, one by 53 %",
	Inputs: []explain.Parameter{racewayParameter,
		tradeSizeParameter,
		sizeParameter, insulationParameter,
	},
	Result: quantity.KindCount, Source: explain.NEC("Chapter 9 Table 1 and note 7 to the tables"),
	Compute: explain.Of4(func(kind, trade quantity.Text, size quantity.Conductor, letters quantity.Text) (explain.Answer, error) {
		w, ok := catalogue.RacewayOf(string(kind), string(trade))
		if !ok {
			return explain.Answer{}, fmt.Errorf("the table has no %s of trade size %s", kind, trade)
		}
		each, _, ok := catalogue.InsulatedArea(size, string(letters))
		if !ok {
			return explain.Answer{}, fmt.Errorf("the table has no %s with %s", shown(size), letters)
		}
		return explain.Is(wholeConductors(w.Area, each))
	}),
}

// wholeConductors counts by Table 1: three and more up to 40 %, two up to 31 %, one up to 53 %.
func wholeConductors(raceway, each quantity.Area) quantity.Count {
	n := math.Floor(float64(quantity.Part(raceway, each))*0.40 + 0.2)
	if n >= 3 {
		return quantity.Count(n)
	}
	for n := 2.0; n >= 1; n-- {
		limit, _ := catalogue.RacewayFill(quantity.Count(n))
		if quantity.Part(each*quantity.Area(n), raceway) <= limit {
			return quantity.Count(n)
		}
	}
	return 0
}
