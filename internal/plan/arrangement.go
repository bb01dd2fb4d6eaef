package plan

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"reflect"
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/trade/box"
)

// BoxMark returns a word that is the same for two briefs exactly when the same is to be arranged in the same sizes, wherever it stands in the job
// file: then an arrangement worked out for one is the other's too.
func BoxMark(b *box.Brief) string {
	sum := sha256.New()
	e := &b.Job.Enclosure
	fmt.Fprintf(sum, "%v;%v;%q;%q;", b.Set, b.Sheet().Value, b.Hinge(), b.Job.Units.Value)
	fmt.Fprintf(sum, "%v;%q;", e.ShaftMost.Value, e.Switch.Value)
	for _, body := range b.Bodies {
		if s := body.Spot; s != nil {
			fmt.Fprintf(sum, "at %.6f %.6f %v;", s.X.Value, s.Y.Value, s.Turned)
		}
		// What holds a part doesn't say where it stands; how warm it gets says so by the sizes that are too warm.
		body.Spot, body.Fixing, body.Loss, body.Limit = nil, box.Fixing{}, explain.Known[quantity.Power]{}, explain.Known[quantity.Temperature]{}
		writeContent(sum, reflect.ValueOf(body))
	}
	for _, n := range b.Entries {
		n.Said = nil
		writeContent(sum, reflect.ValueOf(n))
	}
	writeContent(sum, reflect.ValueOf(b.Wires))
	writeContent(sum, reflect.ValueOf(b.Rooms))
	return hex.EncodeToString(sum.Sum(nil)[:12])
}

// Rebriefed returns an arrangement as one of the brief, which must have the mark of the one that it was worked out for: bodies and sizes in it have the
// places of this brief's file. The arrangement itself isn't changed.
func Rebriefed(r *box.Result, b box.Brief) *box.Result {
	own := *r
	own.Brief = b
	own.Tried = slices.Clone(r.Tried)
	for n := range own.Tried {
		own.Tried[n].Room = b.Rooms[n]
	}
	return &own
}
