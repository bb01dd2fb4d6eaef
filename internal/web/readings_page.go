package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/output/drawing"
	"drivewright/internal/output/sheet"
	"drivewright/internal/plan"
	"drivewright/internal/trade/circuit"
	"drivewright/internal/trade/prove"
)

// readingsPage is the page that goes along to the machine: what to do, what to measure, one thing at a time.
type readingsPage struct {
	Base                               string      // what every address of the page begins with; "" on this computer
	Phone                              *phoneShown // the way to the phone, on this computer's page
	Name, Title, Mark, Beside, Version string
	Proving                            bool
	Before                             []string
	Readings                           []readingCard
	Tests                              []testCard
	Work                               []template.HTML // the parts of the sheet with the order of work
	State                              string          // a readingsState as JSON
}

// readingCard is one reading as it is taken.
type readingCard struct {
	ID     string
	Number int    // its place on the sheet; 0 for one that is only measured to find a fault
	Ends   string // the two terminals, in short
	Set    []settingLine
	Spots  []spot
	Clips  bool
	Proves string
	Expect string
}

// settingLine is what is done with one switch before the probes touch.
type settingLine struct {
	Tag, Words, Verb, Position string
	Back                       bool // it goes back to its rest
}

// spot is where one probe goes, or both where they go to one device.
type spot struct {
	Place, Tag, Words string
	Ends              []spotEnd
	Pulled            bool
	Picture           template.HTML
}

type spotEnd struct{ Probe, Terminal string }

// testCard is a test that is no reading of the control wiring.
type testCard struct {
	ID, Kind, Text, Expect, Caution, Source string
	Number                                  int
	Numeric                                 bool // a resistance is read in it; the others are passed or not
}

// readings shows the page, whose addresses begin with the base.
func (s *server) readings(base string) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) { s.showReadings(w, r, base) }
}

func (s *server) showReadings(w http.ResponseWriter, r *http.Request, base string) {
	name := r.PathValue("name")
	if !properName(name) {
		s.noReadings(w, base)
		return
	}
	b := s.bench(name)
	b.mu.Lock()
	defer b.mu.Unlock()
	text, _, err := s.Store.Load(name)
	if err != nil {
		s.noReadings(w, base)
		return
	}
	worked, proved := s.workOut(name, b, text)
	work := s.arrange(b, &worked) // the order of work tells the lengths of wires
	d := s.Build(worked, View{Proving: !proved, Arranging: work.Arranging && !work.Found})
	page := readingsPage{Base: base, Name: name, Title: d.Title, Mark: worked.CircuitMark(), Beside: s.beside(name, b), Version: s.Version, Proving: !proved}
	if page.Work, err = workParts(d); err != nil {
		s.fail(w, err)
		return
	}
	if proved {
		c, m := &worked.Circuit.Circuit, &worked.Proof.Meter
		page.Before = m.Before
		for n, reading := range m.Readings {
			var before *prove.Reading
			if n > 0 {
				before = &m.Readings[n-1]
			}
			card, err := newReadingCard(c, m, reading, before)
			if err != nil {
				s.fail(w, err)
				return
			}
			card.Number = n + 1
			page.Readings = append(page.Readings, card)
		}
		for n, t := range m.Tests {
			page.Tests = append(page.Tests, testCard{t.ID, string(t.Kind), capital(t.Text), t.Expect, t.Caution, t.Source.String(), n + 1, t.Band != prove.Band{}})
		}
	}
	state, err := s.readingsState(&worked, nil)
	if err != nil {
		s.fail(w, err)
		return
	}
	written, err := json.Marshal(state)
	if err != nil {
		s.fail(w, err)
		return
	}
	page.State = string(written)
	if s.Phone != nil && base == "" {
		if page.Phone, err = s.Phone.shown("/job/" + url.PathEscape(name) + "/readings"); err != nil {
			s.fail(w, err)
			return
		}
	}
	s.show(w, "readings.tmpl", page)
}

// newReadingCard lays one reading out. before is the one that was taken before it, whose switches may have to go back; nil if
// nobody knows.
func newReadingCard(c *circuit.Circuit, m *prove.MeterSheet, r prove.Reading, before *prove.Reading) (readingCard, error) {
	card := readingCard{ID: r.ID, Ends: r.From.String() + " to " + r.To.String(), Clips: r.Clips, Proves: capital(r.Proves), Expect: shownBand(r.Expect)}
	for _, s := range r.Settings {
		card.Set = append(card.Set, newSettingLine(c, s))
	}
	if before != nil {
		for _, s := range before.Settings {
			d := c.Device(s.Device)
			if d == nil || d.Springs || len(d.Positions) == 0 || slices.ContainsFunc(r.Settings, func(now prove.Setting) bool { return now.Device == s.Device }) {
				continue
			}
			card.Set = append(card.Set, settingLine{Verb: "back to", Tag: d.Tag, Words: d.Words, Position: d.Positions[0], Back: true})
		}
	}
	ends := []circuit.Pin{r.From, r.To}
	for n, pin := range ends {
		if n == 1 && r.From.Device == r.To.Device {
			if d := c.Device(pin.Device); d != nil && len(card.Spots) == 1 {
				if _, _, ok := drawing.ProbeWindow(len(d.Terminals), []drawing.ProbeAt{{Terminal: slices.Index(d.Terminals, r.From.Terminal)}, {Terminal: slices.Index(d.Terminals, r.To.Terminal)}}); ok {
					var err error
					card.Spots[0], err = newSpot(c, m, r.ID+"-1", 1, r.From, r.To)
					return card, err
				}
			}
		}
		at, err := newSpot(c, m, fmt.Sprintf("%s-%d", r.ID, n+1), n+1, pin)
		if err != nil {
			return card, err
		}
		card.Spots = append(card.Spots, at)
	}
	return card, nil
}

// newSpot draws where the probes go on one device; the first of them is called by the number.
func newSpot(c *circuit.Circuit, m *prove.MeterSheet, id string, number int, pins ...circuit.Pin) (spot, error) {
	at := spot{Place: "?", Tag: pins[0].Device}
	d := c.Device(pins[0].Device)
	row := drawing.ProbeRow{ID: "at-" + explain.Slug(id), Title: "where the probe goes"}
	if d != nil {
		at.Place, at.Words, row.Terminals = capital(d.Place), d.Words, d.Terminals
	}
	for n, pin := range pins {
		name := fmt.Sprint(number + n)
		at.Ends = append(at.Ends, spotEnd{name, pin.Terminal})
		at.Pulled = at.Pulled || slices.Contains(m.Pulled, pin)
		where := slices.Index(row.Terminals, pin.Terminal)
		if where < 0 {
			row.Terminals = append(slices.Clone(row.Terminals), pin.Terminal)
			where = len(row.Terminals) - 1
		}
		row.Probes = append(row.Probes, drawing.ProbeAt{Terminal: where, Name: name})
	}
	var b bytes.Buffer
	err := drawing.WriteSVG(&b, drawing.Probes(row), drawing.SVGOptions{Inline: true, Fluid: true})
	at.Picture = template.HTML(b.String()) // written by drawing, which escapes every text
	return at, err
}

// newSettingLine says what a hand does to bring the switch there.
func newSettingLine(c *circuit.Circuit, s prove.Setting) settingLine {
	line := settingLine{Tag: s.Device, Position: s.Position}
	d := c.Device(s.Device)
	if d == nil {
		return line
	}
	line.Words = d.Words
	switch {
	case d.Springs:
		line.Verb = "hold"
	case d.Kind == circuit.Relay || d.Kind == circuit.DelayRelay || d.Kind == circuit.Contactor:
		line.Verb, line.Position = "hold", s.Position+", by hand"
	}
	return line
}

// shownBand says what the meter may show. It reads the same in both unit systems.
func shownBand(b prove.Band) string {
	ohms := func(r quantity.Resistance) string { return together(r.Show(quantity.MetricUnits)) }
	switch {
	case b.Continuity:
		return "a beep, or less than " + ohms(b.Most)
	case b.Open:
		return "open: more than " + ohms(b.Least)
	case b.OrOpen:
		return ohms(b.Least) + " or more, or open"
	case b.Nominal > 0:
		return fmt.Sprintf("%s to %s, about %s", ohms(b.Least), ohms(b.Most), ohms(b.Nominal))
	}
	return fmt.Sprintf("%s to %s", ohms(b.Least), ohms(b.Most))
}

// together keeps a figure and its unit on one line.
func together(text string) string { return strings.ReplaceAll(text, " ", "\u00a0") }

// capital writes the first letter large.
func capital(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	if size == 0 {
		return text
	}
	return string(unicode.ToUpper(first)) + text[size:]
}

// workParts are the parts of the sheet's Wire stage that hold something to tick off, as they stand on the sheet: a tick made in one
// place shows in the other.
func workParts(d sheet.Document) ([]template.HTML, error) {
	parts, err := sheet.HTMLParts(d, sheet.LivePage)
	if err != nil {
		return nil, err
	}
	var work []template.HTML
	within := false
	for _, s := range d.Sections {
		if s.Level == 1 {
			within = s.ID == "wire"
		}
		if !within || !slices.ContainsFunc(s.Blocks, func(b sheet.Block) bool { _, ticks := b.(sheet.Ticks); return ticks }) {
			continue
		}
		for _, p := range parts {
			if p.ID == "s-"+s.ID {
				work = append(work, p.HTML)
			}
		}
	}
	return work, nil
}

// planOf is the plan of a job for a request; it has answered by itself when there is none.
func (s *server) planOf(w http.ResponseWriter, name string, b *bench) (plan.Plan, bool) {
	text, _, err := s.Store.Load(name)
	if err != nil {
		s.fail(w, err)
		return plan.Plan{}, false
	}
	worked, _ := s.workOut(name, b, text)
	return worked, true
}
