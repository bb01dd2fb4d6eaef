package prove

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"drivewright/internal/base/quantity"
	"drivewright/internal/trade/circuit"
)

// How far readings and mistakes are trusted. Source: common practice; the figures only rank the suspects.
const (
	misread      = 0.004 // part of the readings that are taken at a wrong terminal, in a wrong position or misread
	noneOfThese  = 0.05  // how likely something else is, or more than one mistake, against all single ones together
	elseAsRight  = 0.6   // a reading that is right, when something else is wrong
	elseAsWrong  = 0.2   // and one that is wrong
	mostElse     = 0.2   // how likely anything else can be, against the mistakes that explain every reading by themselves
	mostSuspects = 8
	mostParted   = 16 // mistakes that the next reading is to part
	leastOdds    = 0.01
	sureEnough   = 0.97 // odds above which no further reading is asked for
)

// Judge says what the readings taken mean: each by itself, and all together. Of several of one reading the last counts. Without a wrong
// one nothing is suspected.
func (m *MeterSheet) Judge(c *circuit.Circuit, taken []Taken) Diagnosis {
	var d Diagnosis
	w := m.weighing
	if w == nil && c != nil {
		w = Meter(c).weighing
	}
	known := m.found(w, taken)
	latest := map[string]evidence{}
	var names []string
	wrong := false
	for _, t := range taken {
		j := Judged{Taken: t}
		v, err := parseShown(t.Value)
		r := known[t.Reading]
		test := slices.IndexFunc(m.Tests, func(x Test) bool { return x.ID == t.Reading })
		switch {
		case test >= 0:
			j.Shown, j.Right, j.Problem = m.Tests[test].judge(t.Value)
		case err != nil:
			j.Problem = err.Error()
		case r == nil:
			j.Problem = "there is no reading " + t.Reading + " on this circuit: it was taken on another, or the name is misspelt"
		default:
			j.Shown = v.Show()
			if j.Right, j.Problem = r.Expect.right(v); j.Problem == "" {
				if _, again := latest[t.Reading]; !again {
					names = append(names, t.Reading)
				}
				latest[t.Reading] = evidence{r, v, j.Right}
			}
		}
		d.Judged = append(d.Judged, j)
	}
	var all []evidence
	for _, n := range names {
		e := latest[n]
		all = append(all, e)
		wrong = wrong || !e.right
	}
	if wrong && w != nil {
		w.diagnose(&d, m, all)
	}
	return d
}

// evidence is one reading taken, as understood.
type evidence struct {
	*Reading
	value shownValue
	right bool
}

// found returns the readings that are meant by the names: those of the sheet, else any candidate.
func (m *MeterSheet) found(w *weighing, taken []Taken) map[string]*Reading {
	known := map[string]*Reading{}
	for n := range m.Readings {
		known[m.Readings[n].ID] = &m.Readings[n]
	}
	missing := map[string]bool{}
	for _, t := range taken {
		if known[t.Reading] == nil {
			missing[t.Reading] = true
		}
	}
	if len(missing) == 0 || w == nil {
		return known
	}
	w.candidatesBy(func(c candidate, id string) {
		if missing[id] && known[id] == nil {
			r := w.reading(column{candidate: c})
			r.ID = id
			known[id] = &r
		}
	})
	return known
}

// hypothesis is one thing that may be wrong.
type hypothesis struct {
	mistake int
	odds    float64
	exact   bool   // it explains every reading
	seen    string // how it explains each: hypotheses that share it can't be told apart by the readings taken
}

// diagnose fills suspects and the next reading by Bayes' rule: how likely each mistake is before, times how well it explains
// every reading.
func (w *weighing) diagnose(d *Diagnosis, sheet *MeterSheet, all []evidence) {
	total := 0.0
	for _, m := range w.mistakes {
		total += m.Weight
	}
	list := make([]hypothesis, len(w.mistakes))
	for n, m := range w.mistakes {
		list[n] = hypothesis{mistake: n, odds: m.Weight / total, exact: true}
	}
	// Beside them: nothing is wrong, and what is off was misread; or something else is, such as two mistakes at once, which shows
	// the healthy value where it isn't on the way, and anything where it is.
	misreadAll, other := 1.0, noneOfThese
	for _, e := range all {
		found, healthy := w.expected(e.Reading)
		if found == nil {
			continue
		}
		best := 0.0 // of those that explain it
		for n := range list {
			fits := found[n].explains(e.value)
			list[n].odds *= fits
			list[n].exact = list[n].exact && fits > misread
			list[n].seen += strconv.FormatFloat(fits, 'g', 3, 64) + " "
			if fits > misread {
				best = max(best, fits)
			}
		}
		if best == 0 {
			best = 1
		}
		misreadAll *= healthy.explains(e.value)
		if e.right {
			other *= elseAsRight * healthy.explains(e.value)
		} else {
			other *= elseAsWrong * best
		}
	}
	rest, explained, inexact := misreadAll+other, 0.0, 0.0
	for _, h := range list {
		if h.exact {
			explained += h.odds
		} else {
			inexact += h.odds
		}
	}
	if most := mostElse * explained; most > 0 && rest+inexact > most {
		less := most / (rest + inexact)
		rest, inexact = rest*less, inexact*less
		for n := range list {
			if !list[n].exact {
				list[n].odds *= less
			}
		}
	}
	sum := rest + explained + inexact
	for n := range list {
		list[n].odds /= sum
	}
	slices.SortStableFunc(list, func(a, b hypothesis) int { return -cmp.Compare(a.odds, b.odds) })
	groups := w.grouped(list)
	for _, g := range groups {
		d.Suspects = append(d.Suspects, w.suspect(g, all))
	}
	if rest /= sum; rest >= leastOdds || len(groups) == 0 {
		s := Suspect{Mistake: -1, Name: "none of these, more than one mistake at once, or a reading that was misread", Odds: quantity.Ratio(rest),
			Remedy: "take the readings that are off once more, with the probes on the screws and the switches as stated"}
		at := len(d.Suspects)
		if explained == 0 { // no single mistake explains the readings: it stands where its odds put it
			at, _ = slices.BinarySearchFunc(d.Suspects, s, func(a, b Suspect) int { return -cmp.Compare(a.Odds, b.Odds) })
		}
		d.Suspects = slices.Insert(d.Suspects, at, s)
	}
	if len(list) == 0 || list[0].odds >= sureEnough {
		return
	}
	apart := slices.DeleteFunc(slices.Clone(list[:min(len(list), mostParted)]), func(h hypothesis) bool { return h.odds < leastOdds })
	d.Next = w.next(sheet, all, apart)
}

// expectation is what a reading finds with each mistake, and with none.
type expectation struct {
	found   []span
	healthy span
}

// expected returns what a reading finds with each mistake, and with none; nil where the circuit has no such reading. What was asked for
// once is kept: the same readings are judged again and again, each time with one more.
func (w *weighing) expected(r *Reading) (found []span, healthy span) {
	w.lock.Lock()
	defer w.lock.Unlock()
	if e, known := w.expect[r.ID]; known {
		return e.found, e.healthy
	}
	if w.expect == nil {
		w.expect = map[string]expectation{}
	}
	s, ok := w.box.setupOf(r.Settings)
	p, q := w.box.wiring.At(r.From), w.box.wiring.At(r.To)
	if !ok || p < 0 || q < 0 {
		return nil, span{}
	}
	var v view
	e := expectation{found: make([]span, len(w.altered))}
	for n := range w.altered {
		w.box.look(&v, &s, &w.altered[n])
		e.found[n] = v.between(p, q)
	}
	w.box.look(&v, &s, &unaltered)
	e.healthy = v.between(p, q)
	w.expect[r.ID] = e
	return e.found, e.healthy
}

// explains says how well a span explains a value: the part of the readings of it that show such a value.
func (s span) explains(v shownValue) float64 {
	least, most := s.shown()
	least, most = least*(1-clearPart), most*(1+clearPart)
	ohms := v.ohms
	switch {
	case v.beep && s.joined():
		return 1 - misread
	case v.beep:
		ohms = beepMost / 2
		if least > beepMost {
			return misread
		}
		least = 0
	}
	open := math.IsInf(ohms, 1)
	switch {
	case open && s.open():
		return 1 - misread
	case open && math.IsInf(most, 1):
		return 0.5
	case ohms < least, ohms > most:
		return misread
	case s.joined(), s.open():
		return 1 - misread
	}
	// The narrower the span, the more it says for it that the value lies in it.
	wide := math.Log(min(most, 20e6) / max(least, 0.3))
	return max(misread, (1-misread)/(1+max(wide, 0)))
}

// next returns the reading, of the sheet or any other, that would best tell the hypotheses apart; nil if none would. It is never one
// that was taken already: that they were misread isn't among the hypotheses.
func (w *weighing) next(sheet *MeterSheet, all []evidence, list []hypothesis) *Reading {
	taken := map[string]bool{}
	for _, e := range all {
		taken[e.ID] = true
	}
	onSheet := map[string]*Reading{}
	for n := range sheet.Readings {
		onSheet[sheet.Readings[n].ID] = &sheet.Readings[n]
	}
	for {
		best, bestID := w.tellsMost(onSheet, taken, list)
		if best == nil {
			return nil
		}
		if r := onSheet[bestID]; r != nil {
			return r
		}
		if w.owns(*best, bestID) {
			r := w.reading(column{candidate: *best})
			r.ID = bestID
			return &r
		}
		taken[bestID] = true // by this name another one would be judged
	}
}

// owns reports whether a name means the candidate: of the hundred thousands a few share one, and the first has it.
func (w *weighing) owns(c candidate, name string) bool {
	first := true
	owns := false
	w.candidatesBy(func(other candidate, id string) {
		if id == name && first {
			first, owns = false, other == c
		}
	})
	return owns
}

// tellsMost returns the candidate that tells the hypotheses apart best, with its name; nil if none does.
func (w *weighing) tellsMost(onSheet map[string]*Reading, taken map[string]bool, list []hypothesis) (best *candidate, bestID string) {
	total := 0.0
	for _, h := range list {
		total += h.odds
	}
	if total <= 0 {
		return nil, ""
	}
	views := make([]view, len(list))
	bestWorth := 0.05 // below it nothing is learned
	told := teller{odds: make([]float64, len(list))}
	for n, h := range list {
		told.odds[n] = h.odds / total
	}
	for n := range w.setups {
		s := &w.setups[n]
		for k, h := range list {
			w.box.look(&views[k], s, &w.altered[h.mistake])
		}
		base := w.setupCost(n)
		classes := alike(w.box.probes, views)
		for i, one := range classes {
			for _, another := range classes[:i] {
				learned := told.learned(w.box, views, w.box.probes[one[0]], w.box.probes[another[0]])
				if learned <= bestWorth-0.05 {
					continue
				}
				for _, p := range one {
					for _, q := range another {
						c := candidate{min(p, q), max(p, q), n}
						worth := learned - 0.004*float64(base+w.pairCost(c.p, c.q))
						if worth+0.05 <= bestWorth {
							continue
						}
						id := w.name(c)
						if r := onSheet[id]; r != nil {
							if !w.same(r, c) {
								continue // two readings share the name, and the sheet's has it
							}
							worth += 0.05
						}
						if worth > bestWorth && !taken[id] {
							best, bestID, bestWorth = &c, id, worth
						}
					}
				}
			}
		}
	}
	return best, bestID
}

// same reports whether a candidate is the reading.
func (w *weighing) same(r *Reading, c candidate) bool {
	p, q := w.box.wiring.Pins[w.box.probes[c.p]], w.box.wiring.Pins[w.box.probes[c.q]]
	return (r.From == p && r.To == q || r.From == q && r.To == p) && slices.Equal(r.Settings, w.setups[c.setup].settings)
}

// alike sorts the probes into those that are joined in every view.
func alike(probes []int, views []view) [][]int {
	class := map[string]int{}
	var list [][]int
	key := make([]byte, 0, 2*len(views))
	for p, n := range probes {
		key = key[:0]
		for v := range views {
			key = append(key, byte(views[v].group[n]), byte(views[v].group[n]>>8))
		}
		k, there := class[string(key)]
		if !there {
			k = len(list)
			class[string(key)] = k
			list = append(list, nil)
		}
		list[k] = append(list[k], p)
	}
	return list
}

// teller measures how much a reading tells.
type teller struct {
	odds  []float64
	spans []span
	sums  []float64
}

// learned returns the expected information, in bits, of a reading between two nodes, with hypotheses that a meter can't tell
// apart there counted as one outcome.
func (t *teller) learned(b *deadBox, views []view, p, q int) float64 {
	t.spans, t.sums = t.spans[:0], t.sums[:0]
	for n := range views {
		s := views[n].between(p, q)
		k := 0
		for k < len(t.spans) && s != t.spans[k] && (b.tells(t.spans[k], s) || b.tells(s, t.spans[k])) {
			k++
		}
		if k == len(t.spans) {
			if !s.useful() {
				return 0
			}
			t.spans, t.sums = append(t.spans, s), append(t.sums, 0)
		}
		t.sums[k] += t.odds[n]
	}
	if len(t.sums) < 2 {
		return 0
	}
	information := 0.0
	for _, p := range t.sums {
		if p > 0 {
			information -= p * math.Log2(p)
		}
	}
	return information
}
