package web

import (
	"errors"
	"fmt"
	"strings"

	"drivewright/internal/input/job"
)

// setValue writes q.Text at q.Path; an empty text takes the key out.
func setValue(file *job.File, q request) (text []byte, what string, err error) {
	before := typed(file, q.Path)
	after := strings.TrimSpace(q.Text)
	switch {
	case after == before:
		return file.Bytes, "", nil
	case after == "":
		text, err = file.Remove(q.Path)
	default:
		text, err = file.Set(q.Path, after)
	}
	return text, q.Path + ": " + orNothing(before) + " → " + orNothing(after), err
}

func orNothing(text string) string {
	if text == "" {
		return "not written"
	}
	if first, _, more := strings.Cut(text, "\n"); more {
		return first + " …"
	}
	return text
}

// newItems are the lists that an item can be added to, with the key that names an item, and how a new one is named.
var newItems = map[string]struct{ key, name, words string }{
	"loads": {"name", "load %d", "load"}, "stations": {"name", "station %d", "station"}, "drive terminals": {"name", "T%d", "drive terminal"},
	"devices": {"tag", "NEW%d", "device"}, "wires": {"name", "new%d", "wire"}, "cables": {"tag", "NEW%d", "cable"},
	"own sizes": {"name", "size %d", "size"}, "parts": {"tag", "NEW%d", "part"}, "entries": {"cable", "NEW%d", "entry"}, "blocks": {"name", "block %d", "block"}, "bolts": {"name", "bolt %d", "bolt"},
	"own holes": {"name", "hole %d", "hole"}, "patterns": {"name", "pattern %d", "pattern"}, "holes": {"name", "new%d", "hole of a pattern"}, "distances": {"from", "new%d", "reading"}, "fit-up": {"place", "place %d", "reading"},
}

// addItem adds an item to the list q.Item, such as a load, with nothing written but a name of its own.
func addItem(file *job.File, q request) (text []byte, what string, err error) {
	item, ok := newItems[q.Item]
	if !ok {
		return nil, "", fmt.Errorf("there is no list called %s", q.Item)
	}
	taken := map[string]bool{}
	n := 0
	for file.Job.Entries(fmt.Sprintf("%s[%d]", q.Item, n)) != nil {
		taken[file.Typed(fmt.Sprintf("%s[%d].%s", q.Item, n, item.key))] = true
		n++
	}
	for n++; taken[fmt.Sprintf(item.name, n)]; n++ {
	}
	text, err = file.Append(q.Item, map[string]string{item.key: fmt.Sprintf(item.name, n)})
	return text, fmt.Sprintf("adding %s %d", item.words, n), err
}

// removeItem takes the item q.Item, such as loads[0], out of its list.
func removeItem(file *job.File, q request) (text []byte, what string, err error) {
	text, err = file.Remove(q.Item)
	return text, "removing " + q.Item, err
}

// acceptFinding records that the user lives with a finding, and why.
func acceptFinding(file *job.File, q request) (text []byte, what string, err error) {
	reason, by := strings.TrimSpace(q.Reason), strings.TrimSpace(q.By)
	if q.Rule == "" || reason == "" {
		return nil, "", errors.New("say why you accept it: the next person will want to know")
	}
	item := map[string]string{"rule": q.Rule, "because": reason}
	if by != "" {
		item["by"] = by
	}
	text, err = file.Append("accepted", item)
	return text, "accepting " + q.Rule, err
}

// unacceptFinding takes the acceptance of q.Rule out again.
func unacceptFinding(file *job.File, q request) (text []byte, what string, err error) {
	for n, a := range file.Job.Accepted {
		if string(a.Rule.Value) == q.Rule {
			text, err = file.Remove(fmt.Sprintf("accepted[%d]", n))
			return text, "no longer accepting " + q.Rule, err
		}
	}
	return nil, "", fmt.Errorf("%s is not accepted in the job file", q.Rule)
}
