package pack

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"maps"
	"slices"
)

// What an instance may hold. Other keys are passed over, since files carry notes of their own; but one that is a single slip away from a key that
// counts is no note: without it the file would be another problem, and its proof a proof of something else.
var (
	instanceKeys = []string{"name", "task", "grid", "bin", "items", "nets", "boxes", "keepouts", "separations", "entries", "terminals"}
	itemKeys     = []string{"w", "h", "d", "n", "rotate", "clear", "rail", "fixed", "id", "kind"}
)

// meant returns the key that the word is a slip of; "" if it is a key, or nothing like one.
func meant(word string, keys []string) string {
	if slices.Contains(keys, word) || len(word) < 3 {
		return ""
	}
	for _, k := range keys {
		if len(k) >= 3 && oneSlip(word, k) {
			return k
		}
	}
	return ""
}

// oneSlip reports whether a becomes b by one letter more, less or another, or by two neighbours changing places.
func oneSlip(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	n := 0
	for n < len(a) && a[n] == b[n] {
		n++
	}
	switch len(b) - len(a) {
	case 1:
		return a[n:] == b[n+1:]
	case 0:
		return n < len(a) && (a[n+1:] == b[n+1:] || n+1 < len(a) && a[n] == b[n+1] && a[n+1] == b[n] && a[n+2:] == b[n+2:])
	}
	return false
}

// itemSlips refuses an item with a key that is a slip of one that counts. text is the item as it stands in the file.
func (r *reader) itemSlips(text []byte) error {
	var item map[string]json.RawMessage
	if json.Unmarshal(text, &item) != nil {
		return nil // not an object: told already
	}
	for _, key := range slices.Sorted(maps.Keys(item)) {
		if k := meant(key, itemKeys); k != "" {
			at := r.start + int64(max(bytes.Index(text, []byte(`"`+key+`"`)), 0))
			return r.failAt(at, "an item has no %q; did you mean %q?", key, k)
		}
	}
	return nil
}

// ended refuses whatever follows the object.
func (r *reader) ended() error {
	at := r.dec.InputOffset()
	if _, err := r.dec.Token(); !errors.Is(err, io.EOF) {
		return r.failAt(at, "something follows the object that is the instance")
	}
	return nil
}
