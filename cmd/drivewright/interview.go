package main

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// question is one thing that new asks.
type question struct {
	path   string
	ask    string
	answer *string
	// example stands in the question where the file's own way of writing isn't how one would answer; "" for the file's.
	example string
	// unless reports, by the answers before, that the question has no meaning; nil for never.
	unless func() bool
}

// given checks the answers that options have given, to the letter: nobody is there to see how a number without its unit was
// taken.
func given(questions []question) error {
	for _, q := range questions {
		if *q.answer == "" {
			continue
		}
		if q.path == "motor.lead groups" {
			*q.answer = bracketed(*q.answer)
		}
		if mistake, _ := unfit(q.path, *q.answer); mistake != "" {
			return usage("%s", mistake)
		}
	}
	return nil
}

// interview asks the questions that options haven't answered.
type interview struct {
	*bench
	questions []question
	metric    func() bool // do the answers so far ask for metric units
}

// run asks until the questions or the answers end.
func (i interview) run() error {
	fields := map[string]job.Field{}
	for _, f := range job.Fields() {
		fields[f.Path] = f
	}
	var open []int // the questions that are for the user
	for n, q := range i.questions {
		if *q.answer == "" {
			open = append(open, n)
		}
	}
	if len(open) > 0 {
		i.say("Enter leaves a question for later, back returns to the one before. A number alone is taken in the unit of the example.")
	}
	lines := bufio.NewScanner(i.in)
	for at := 0; at < len(open); {
		q := i.questions[open[at]]
		if q.unless != nil && q.unless() {
			at++
			continue
		}
		f := fields[q.path]
		i.ask(q, f)
		if !lines.Scan() {
			fmt.Fprintln(i.out) // the answers have ended: the rest is left for later
			i.dropIdle(open)
			return lines.Err()
		}
		answer := strings.TrimSpace(lines.Text())
		if strings.EqualFold(answer, "back") {
			at = i.before(open, at)
			continue
		}
		if answer != "" {
			taken, mistake := i.take(q, f, answer)
			if mistake != "" {
				i.say("  " + mistake)
				continue
			}
			if taken != answer {
				i.say("  taken as " + taken)
			}
			*q.answer = taken
		}
		at++
	}
	i.dropIdle(open)
	return nil
}

// dropIdle takes back answers whose question has lost its meaning by a later one.
func (i interview) dropIdle(open []int) {
	for _, n := range open {
		if q := i.questions[n]; q.unless != nil && q.unless() {
			*q.answer = ""
		}
	}
}

// before is the place of the question asked before the one at the place.
func (i interview) before(open []int, at int) int {
	for n := at - 1; n >= 0; n-- {
		if q := i.questions[open[n]]; q.unless == nil || !q.unless() {
			return n
		}
	}
	i.say("  this is the first question")
	return at
}

// ask puts the question, with the words that may stand there or an example, and the answer so far.
func (i interview) ask(q question, f job.Field) {
	hint := "such as " + cmp.Or(q.example, i.example(f))
	if len(f.Words) > 0 {
		hint = strings.Join(f.Words, ", ")
	}
	if *q.answer != "" {
		hint += "; Enter keeps " + *q.answer
	}
	fmt.Fprint(i.out, explain.Fold(q.ask+"  ["+hint+"] ", i.width, "  "))
}

func (i interview) say(text string) { fmt.Fprintln(i.out, explain.Fold(text, i.width, "  ")) }

// example is what might be answered, in the units that were asked for.
func (i interview) example(f job.Field) string {
	if i.metric() {
		return f.Metric
	}
	return f.Example
}

// take returns the answer as the file must have it: a number alone in the unit of the example, a word in its right
// spelling, where only one can be meant. Else it says what is wrong.
func (i interview) take(q question, f job.Field, answer string) (taken, mistake string) {
	mistake, remedy := unfit(q.path, answer)
	if mistake == "" {
		if near := explain.Nearest(answer, f.Words); near != "" {
			return near, "" // class a 5ma
		}
		return answer, ""
	}
	var attempts []string
	switch {
	case len(f.Words) > 0:
		if near := explain.Near(answer, f.Words); len(near) == 1 {
			attempts = append(attempts, near[0])
		}
		if yes := map[string]string{"y": "yes", "n": "no"}[strings.ToLower(answer)]; yes != "" {
			attempts = append(attempts, yes)
		}
	case q.path == "motor.lead groups":
		attempts = append(attempts, bracketed(answer))
	case bareNumbers.MatchString(answer):
		attempts = append(attempts, answer+" "+unitOf(i.example(f)))
	}
	if proposal, ok := strings.CutPrefix(remedy, "write "); ok {
		attempts = append(attempts, proposal) // nine: write 9
	}
	n := slices.IndexFunc(attempts, func(text string) bool { mistake, _ := unfit(q.path, text); return mistake == "" })
	if n < 0 {
		return "", mistake
	}
	return attempts[n], ""
}

// bareNumbers are one or more numbers without a unit: 1725, 230/460, 1-1/2, 1 1/2.
var bareNumbers = regexp.MustCompile(`^[0-9.]+([ /-]+[0-9.]+)*$`)

// unitOf is the unit of an example, which stands behind its numbers.
func unitOf(example string) string { return strings.TrimLeft(example, "0123456789./- ") }

// bracketed is a list of lead groups as the job file writes it, for one that was written in a hurry: 1-4 2-5 3-6 7-8-9.
func bracketed(text string) string {
	if strings.HasPrefix(text, "[") {
		return text
	}
	var groups []string
	for _, group := range strings.FieldsFunc(text, func(c rune) bool { return strings.ContainsRune(" ;/\t", c) }) {
		leads := strings.FieldsFunc(group, func(c rune) bool { return strings.ContainsRune("-,+–", c) })
		groups = append(groups, "["+strings.Join(leads, ", ")+"]")
	}
	return "[" + strings.Join(groups, ", ") + "]"
}

// unfit says why the text can't stand at the path in a job file, and what would be right; "" when it can.
func unfit(path, text string) (mistake, remedy string) {
	_, err := job.Read("answer", []byte("drivewright: 1\n")).Set(path, text)
	if err == nil {
		return "", ""
	}
	var refused *job.Refused
	if !errors.As(err, &refused) {
		return err.Error(), ""
	}
	mistake, remedy = refused.Finding.Message.Show(quantity.InchUnits), refused.Finding.Remedy.Show(quantity.InchUnits)
	if remedy != "" {
		mistake += "; " + remedy
	}
	return mistake, remedy
}
