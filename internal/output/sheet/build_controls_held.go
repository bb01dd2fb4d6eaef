package sheet

import (
	"slices"
	"strings"
)

// leftSo is what a hand left pressed, pushed in or open in the script so far: a start that does nothing because stop is held must say so.
type leftSo []string

// The actions of the script that leave something so until the one beside them takes it back: before the thing's name and behind it.
var lasting = []struct{ does, doesTail, undoes, undoesTail, left string }{
	{"press ", "", "let go of ", "", " held"},
	{"push ", " in", "pull ", " out again", " still in"},
	{"open ", "", "close ", "", " still open"},
}

// between returns what stands between a head and a tail.
func between(text, head, tail string) (what string, ok bool) {
	what, ok = strings.CutPrefix(text, head)
	if !ok {
		return "", false
	}
	return strings.CutSuffix(what, tail)
}

// after notes an action, and returns it in words, with what is left pressed, pushed in or open meanwhile.
func (s *leftSo) after(action string) string {
	words := action
	for _, l := range lasting {
		if what, ok := between(action, l.undoes, l.undoesTail); ok {
			*s = slices.DeleteFunc(*s, func(left string) bool { return left == what+l.left })
		}
	}
	if len(*s) > 0 {
		words += ", with " + listed(*s)
	}
	for _, l := range lasting {
		if what, ok := between(action, l.does, l.doesTail); ok && !slices.Contains(*s, what+l.left) {
			*s = append(*s, what+l.left)
		}
	}
	return words
}
