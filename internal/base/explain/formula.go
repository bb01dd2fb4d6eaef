package explain

import (
	"fmt"
	"slices"
	"strings"

	"drivewright/internal/base/quantity"
)

// Formula is one relation of the trade that a stage uses and that can be run by itself at the bench, with the same code
// and the same explanation.
type Formula struct {
	Name  string // one word, kebab-case, never reused: "drive-conductor-current"
	Title string // what it gives, in words: "least ampacity of the conductors that feed a drive"
	// Words is the relation with each parameter's name in braces: "{drive input current} × 125 %".
	Words  string
	Inputs []Parameter
	Result quantity.Kind
	Source Source
	// Compute takes the inputs in the order of Inputs. Make it with Of1 … Of7, which check the kinds.
	Compute Compute
}

// Parameter is one input of a formula.
type Parameter struct {
	Name    string // in words, as in Formula.Words
	Kind    quantity.Kind
	Help    string
	Example string   // a valid value, used by the manual page and by the test that runs every formula
	Default string   // taken when the bench is given none; "" means it must be given
	Choices []string // for words: what may stand there
}

// Answer is what a formula gives.
type Answer struct {
	Value quantity.Value
	// Words, if not empty, replaces the formula's words: the branch that was really taken.
	Words string
	// Source, if not zero, replaces the formula's source: the very cell of a table.
	Source Source
	// Looked is true when the value was read from a table rather than computed.
	Looked bool
	Note   Phrase
}

// Is returns the answer that is simply v.
func Is(v quantity.Value) (Answer, error) { return Answer{Value: v}, nil }

// Compute computes a formula's answer from its inputs in order.
type Compute func(inputs []quantity.Value) (Answer, error)

func argument[V quantity.Value](inputs []quantity.Value, n int) (V, error) {
	var zero V
	if n >= len(inputs) {
		return zero, fmt.Errorf("input %d is missing", n+1)
	}
	v, ok := inputs[n].(V)
	if !ok {
		return zero, fmt.Errorf("input %d is a %s, expected a %s", n+1, inputs[n].Kind(), zero.Kind())
	}
	return v, nil
}

// Of1 makes a Compute of a function of one typed input.
func Of1[A quantity.Value](f func(A) (Answer, error)) Compute {
	return func(in []quantity.Value) (Answer, error) {
		a, err := argument[A](in, 0)
		if err != nil {
			return Answer{}, err
		}
		return f(a)
	}
}

// Of2 makes a Compute of a function of two typed inputs.
func Of2[A, B quantity.Value](f func(A, B) (Answer, error)) Compute {
	return func(in []quantity.Value) (Answer, error) {
		b, err := argument[B](in, 1)
		if err != nil {
			return Answer{}, err
		}
		return Of1(func(a A) (Answer, error) { return f(a, b) })(in)
	}
}

// Of3 makes a Compute of a function of three typed inputs.
func Of3[A, B, C quantity.Value](f func(A, B, C) (Answer, error)) Compute {
	return func(in []quantity.Value) (Answer, error) {
		c, err := argument[C](in, 2)
		if err != nil {
			return Answer{}, err
		}
		return Of2(func(a A, b B) (Answer, error) { return f(a, b, c) })(in)
	}
}

// Of4 makes a Compute of a function of four typed inputs.
func Of4[A, B, C, D quantity.Value](f func(A, B, C, D) (Answer, error)) Compute {
	return func(in []quantity.Value) (Answer, error) {
		d, err := argument[D](in, 3)
		if err != nil {
			return Answer{}, err
		}
		return Of3(func(a A, b B, c C) (Answer, error) { return f(a, b, c, d) })(in)
	}
}

// Of5 makes a Compute of a function of five typed inputs.
func Of5[A, B, C, D, E quantity.Value](f func(A, B, C, D, E) (Answer, error)) Compute {
	return func(in []quantity.Value) (Answer, error) {
		e, err := argument[E](in, 4)
		if err != nil {
			return Answer{}, err
		}
		return Of4(func(a A, b B, c C, d D) (Answer, error) { return f(a, b, c, d, e) })(in)
	}
}

// Of6 makes a Compute of a function of six typed inputs.
func Of6[A, B, C, D, E, F quantity.Value](f func(A, B, C, D, E, F) (Answer, error)) Compute {
	return func(in []quantity.Value) (Answer, error) {
		v, err := argument[F](in, 5)
		if err != nil {
			return Answer{}, err
		}
		return Of5(func(a A, b B, c C, d D, e E) (Answer, error) { return f(a, b, c, d, e, v) })(in)
	}
}

// Of7 makes a Compute of a function of seven typed inputs.
func Of7[A, B, C, D, E, F, G quantity.Value](f func(A, B, C, D, E, F, G) (Answer, error)) Compute {
	return func(in []quantity.Value) (Answer, error) {
		v, err := argument[G](in, 6)
		if err != nil {
			return Answer{}, err
		}
		return Of6(func(a A, b B, c C, d D, e E, g F) (Answer, error) { return f(a, b, c, d, e, g, v) })(in)
	}
}

// Derive runs the formula on the inputs and returns its answer under the name, with its reason. If an input is missing,
// or the formula has no answer for these inputs, the result is missing and its note says why; if an input isn't needed in
// this job, neither is the result.
func Derive[V quantity.Value](f *Formula, name string, inputs ...Because) Known[V] {
	r := f.Apply(name, inputs...)
	v, ok := r.Value.(V)
	if !ok && r.Origin != Missing && r.Origin != NotNeeded {
		r.Origin, r.Value = Missing, nil
		r.Note = Say(fmt.Sprintf("the formula %s gives a %s, not a %s", f.Name, f.Result, quantity.KindOf[V]()))
	}
	return Known[V]{v, r}
}

// Apply is Derive without the result's type.
func (f *Formula) Apply(name string, inputs ...Because) *Reason {
	r := &Reason{Name: name, Words: f.Words, Formula: f.Name, Source: f.Source, Origin: Derived}
	var values []quantity.Value
	var missing []string
	var needless *Reason
	for n, b := range inputs {
		why := b.Why()
		as := why.Name
		if n < len(f.Inputs) {
			as = f.Inputs[n].Name
		}
		r.Inputs = append(r.Inputs, Input{As: as, Reason: why})
		switch {
		case why.Origin == NotNeeded:
			needless = why
		case !why.There() && !slices.Contains(missing, why.Name):
			missing = append(missing, why.Name)
		}
		values = append(values, why.Value)
	}
	if len(inputs) != len(f.Inputs) {
		r.Origin, r.Note = Missing, Say(fmt.Sprintf("the formula %s takes %d inputs, not %d", f.Name, len(f.Inputs), len(inputs)))
		return r
	}
	if needless != nil {
		r.Origin, r.Note, r.Words = NotNeeded, needless.Note, ""
		return r
	}
	if len(missing) > 0 {
		r.Origin, r.Note = Missing, Say("needs "+strings.Join(missing, ", "))
		return r
	}
	answer, err := f.Compute(values)
	if err != nil {
		r.Origin, r.Note = Missing, Say(err.Error())
		return r
	}
	r.Value, r.Note = answer.Value, answer.Note
	if answer.Words != "" {
		r.Words = answer.Words
	}
	if answer.Source != (Source{}) {
		r.Source = answer.Source
	}
	if answer.Looked {
		r.Origin = Looked
	}
	return r
}
