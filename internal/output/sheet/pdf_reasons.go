package sheet

import (
	"fmt"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/output/pdf"
)

// working is every reason that the sheet's numbers rest on, each once, in the order in which they are met: first the values as
// they stand on the sheet, each followed by what it was made of.
type working struct {
	list    []*explain.Reason
	numbers map[string]int // from 1, by key
	places  []*pdf.Place
}

// reasonKey tells reasons apart: the same name with the same value is the same reason, whoever holds it.
func reasonKey(r *explain.Reason) string {
	value := ""
	if r.Value != nil {
		value = fmt.Sprintf("%T %v", r.Value, r.Value)
	}
	return r.Name + "\x00" + value
}

// gather walks the document's reasons.
func gather(d Document) *working {
	w := &working{numbers: map[string]int{}}
	for _, s := range d.Sections {
		for _, block := range s.Blocks {
			if v, ok := block.(Values); ok {
				for _, row := range v.Rows {
					w.add(row.Reason)
				}
			}
		}
	}
	return w
}

func (w *working) add(r *explain.Reason) {
	if r == nil || r.Name == "" || w.numbers[reasonKey(r)] != 0 {
		return
	}
	w.list = append(w.list, r)
	w.numbers[reasonKey(r)] = len(w.list)
	w.places = append(w.places, &pdf.Place{})
	for _, i := range r.Inputs {
		w.add(i.Reason)
	}
}

// number returns the reason's number and where it stands; 0 if it isn't among them.
func (w *working) number(r *explain.Reason) (int, *pdf.Place) {
	if r == nil {
		return 0, nil
	}
	n := w.numbers[reasonKey(r)]
	if n == 0 {
		return 0, nil
	}
	return n, w.places[n-1]
}

// plainlyGiven returns what tells the reasons of which a row of the sheet says all: what the user wrote, and what is missing.
func plainlyGiven(d Document) func(*explain.Reason) bool {
	shown := map[string]bool{}
	for _, s := range d.Sections {
		for _, block := range s.Blocks {
			if v, ok := block.(Values); ok {
				for _, row := range v.Rows {
					if row.Reason != nil {
						shown[reasonKey(row.Reason)] = true
					}
				}
			}
		}
	}
	return func(r *explain.Reason) bool {
		return shown[reasonKey(r)] && len(r.Inputs) == 0 && (r.Origin == explain.Given || r.Origin == explain.Missing)
	}
}

// without returns the working without some of its reasons, numbered anew.
func (w *working) without(dropped func(*explain.Reason) bool) *working {
	rest := &working{numbers: map[string]int{}}
	for _, r := range w.list {
		if !dropped(r) {
			rest.list = append(rest.list, r)
			rest.numbers[reasonKey(r)] = len(rest.list)
			rest.places = append(rest.places, &pdf.Place{})
		}
	}
	return rest
}

// why sets the appendix: each reason with its formula in words, the figures put in, its source and what it was made of.
func (b *binder) why() {
	if len(b.appendix.list) == 0 {
		return
	}
	b.heading("Why each number", 1, 40)
	b.flowing(b.root.Add("P"), runsOf("Every number that was not simply written down, and every number that it rests on, once. The numbers in the margin of the sheet lead here; those in brackets lead on, and names lead to the sheet.", leadStyle), 0)
	b.y += 3
	b.setColumns(2)
	list := b.root.Add("L")
	for n, r := range b.appendix.list {
		runs := b.reasonRuns(r)
		p := breakLines(runs, b.room()-8)
		b.need(min(p.total(), 3*p.height) + 1)
		b.appendix.places[n].Set(b.page, max(b.y-4, 0))
		item := list.Add("LI")
		number := itoa(n + 1)
		b.page.Begin(item.Add("Lbl"))
		b.page.Text(b.left()+5.5-softStyle.face.Width(number, softStyle.size), b.y+p.height*0.5+p.size*0.32, softStyle.face, softStyle.size, accentColour, number)
		b.page.End()
		b.flowing(item.Add("LBody"), runs, 8)
		b.y += 1.7
	}
	b.setColumns(1)
}

// reasonRuns is what a reason says of itself, in one paragraph.
func (b *binder) reasonRuns(r *explain.Reason) []run {
	units := b.sheet.Units
	runs := []run{{text: r.Name, style: smallBold}, {text: " = " + r.Show(units) + ".", style: smallBold}}
	say := func(text string, s style) {
		if text != "" {
			runs = append(runs, run{text: " " + text, style: s})
		}
	}
	switch r.Origin {
	case explain.Given:
		place := "Written in the job file"
		if r.Path != "" {
			place += " at " + r.Path
		}
		if r.Span.Known() {
			place += fmt.Sprintf(", line %d", r.Span.Line)
		}
		say(place+".", softStyle)
	case explain.Assumed:
		say("Assumed.", slantedStyle)
	case explain.Missing:
		say("Missing.", slantedStyle)
	case explain.Catalogue:
		say("Of a typical part.", slantedStyle)
	case explain.Derived, explain.Looked:
	}
	if r.Words != "" {
		say(sentenceStart(r.InWords())+figuresPart(r, b.sheet)+".", smallStyle)
	}
	if note := r.Note.Show(units); note != "" {
		say(stopped(sentenceStart(note)), smallStyle)
	}
	if source := r.Source.String(); source != "" {
		say(stopped(source), slantedStyle)
	}
	if len(r.Inputs) > 0 {
		say("From", softStyle)
		for n, i := range r.Inputs {
			if i.Reason == nil {
				continue
			}
			number, to := b.appendix.number(i.Reason)
			text := fmt.Sprintf(" [%d]", number)
			if number == 0 {
				text, to = " "+i.Reason.Name, b.place(i.Reason.ID())
			}
			if n < len(r.Inputs)-1 {
				text += ","
			}
			runs = append(runs, run{text: text, style: style{softStyle.face, softStyle.size, accentColour}, to: to})
		}
		runs = append(runs, run{text: ".", style: softStyle})
	}
	return runs
}

// figuresPart is the formula with its figures put in, behind the formula in words, unless it says no more.
func figuresPart(r *explain.Reason, d Document) string {
	figures := r.Figures(d.Units)
	if figures == "" || figures == r.InWords() {
		return ""
	}
	return ": " + figures
}

// stopped returns the text with a full stop.
func stopped(text string) string {
	if strings.HasSuffix(text, ".") || text == "" {
		return text
	}
	return text + "."
}
