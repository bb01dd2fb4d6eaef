package pack

import (
	"strings"
	"testing"
)

// A slip in a key must not make another problem of the file: it is refused where it stands. Notes of the file's own are passed over.
func TestSlipsInAnInstanceAreRefused(t *testing.T) {
	for text, want := range map[string]string{
		`{"tsk":"strip","bin":{"w":4,"h":4},"items":[{"w":1,"h":1}]}`:                                      `1:2: there is no "tsk" in an instance; did you mean "task"?`,
		`{"task":"opp","bin":{"w":4,"h":4},"items":[{"w":1,"h":1,"rotat":true}]}`:                          `1:57: an item has no "rotat"; did you mean "rotate"?`,
		`{"task":"opp3","bin":{"w":4,"h":4,"d":4},"items":[{"w":1,"h":1}]}`:                                `no item has a depth "d"`,
		`{"task":"opp","bin":{"w":4,"h":4},"items":[{"w":1,"h":1}]} {}`:                                    `something follows the object`,
		`{"task":"opp","notes":1,"source":"x","bin":{"w":4,"h":4},"items":[{"w":1,"h":1,"maker":"none"}]}`: ``,
	} {
		_, err := ReadInstance([]byte(text))
		switch {
		case want == "" && err != nil:
			t.Errorf("%s: %v", text, err)
		case want != "" && (err == nil || !strings.Contains(err.Error(), want)):
			t.Errorf("%s: %v, want %q", text, err, want)
		}
	}
	for _, c := range []struct {
		a, b string
		slip bool
	}{{"task", "tsak", true}, {"task", "task", false}, {"task", "tasks", true}, {"items", "item", true}, {"bin", "ban", true}, {"rotate", "relate", false}} {
		if oneSlip(c.a, c.b) != c.slip {
			t.Errorf("%s, %s: %v", c.a, c.b, !c.slip)
		}
	}
}
