package catalogue

import (
	_ "embed"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed bolt_grade.csv
var boltGradeFile string

//go:embed thread_engagement.csv
var threadEngagementFile string

// BoltGrade is the strength that the marks on a bolt's head promise.
type BoltGrade struct {
	Grade, Marks   string
	Proof, Tensile quantity.Pressure
	Source         explain.Source
}

var boltGrades = sync.OnceValue(func() []BoltGrade {
	return eachRow(boltGradeFile, func(t table, row int) BoltGrade {
		return BoltGrade{t.text(row, "grade"), t.text(row, "marks"), quantity.Pressure(t.figure(row, "proof") * 1e6), quantity.Pressure(t.figure(row, "tensile") * 1e6), t.sourceOf(row, t.text(row, "grade"))}
	})
})

// BoltGradeOf returns the grade of the name in the job file's words; false if the table has none.
func BoltGradeOf(grade string) (BoltGrade, bool) {
	for _, g := range boltGrades() {
		if g.Grade == grade {
			return g, true
		}
	}
	return BoltGrade{}, false
}

// ThreadEngagement is how much thread a metal wants, and what it holds.
type ThreadEngagement struct {
	Metal       string
	Least, Good quantity.Factor // of the bolt's diameter
	Shear       quantity.Pressure
	Edge        quantity.Factor // from the hole's middle to an edge, of the bolt's diameter
	Source      explain.Source
}

var threadEngagements = sync.OnceValue(func() []ThreadEngagement {
	return eachRow(threadEngagementFile, func(t table, row int) ThreadEngagement {
		return ThreadEngagement{t.text(row, "metal"), quantity.Factor(t.figure(row, "least")), quantity.Factor(t.figure(row, "good")), quantity.Pressure(t.figure(row, "shear") * 1e6),
			quantity.Factor(t.figure(row, "edge")), t.sourceOf(row, t.text(row, "metal"))}
	})
})

// ThreadEngagementIn returns the row of the metal; false for what no thread is cut in: wood, masonry.
func ThreadEngagementIn(metal string) (ThreadEngagement, bool) {
	for _, e := range threadEngagements() {
		if e.Metal == metal {
			return e, true
		}
	}
	return ThreadEngagement{}, false
}
