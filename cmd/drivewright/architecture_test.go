package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// floors says who may import whom: a package may import what is named on its own line, and what those may import.
// It is the house's drawing. Nobody edits it to make a build pass; a change here is a decision with a reason in
// ARCHITECTURE.md.
const floors = `
base/quantity:
base/explain:             base/quantity
base/explain/exampletest: base/explain
input/job:                base/explain
input/catalogue:          input/job
trade/power:              input/catalogue
trade/circuit:            input/catalogue
trade/prove:              trade/circuit
trade/pack:
trade/heat:               input/catalogue
trade/box:                input/catalogue trade/pack
trade/metalwork:          input/catalogue
trade/site:               input/catalogue
plan:                     trade/power trade/prove trade/box trade/heat trade/metalwork trade/site
output/typeface:
output/pdf:               output/typeface
output/pdf/pdftest:
output/drawing:           output/pdf
output/sheet:             plan output/drawing
web:                      output/sheet
examples:
cmd/drivewright:          web examples trade/pack
`

// outside says which modules may be imported, and where. Modules that only tests import don't stand here.
const outside = `
github.com/alecthomas/kong: cmd/drivewright
github.com/piglig/go-qr: web
`

// impure are the standard packages that nothing below web may import, with what to use instead.
var impure = map[string]string{
	"os":        "take []byte, io.Writer or fs.FS",
	"net":       "only web serves",
	"net/http":  "only web serves",
	"log":       "return findings and errors",
	"math/rand": "math/rand/v2 with a seed that is given",
	"time":      "dates and clocks are given as values",
}

func TestImportsRunDownwards(t *testing.T) {
	allowed := map[string][]string{}
	for line := range strings.Lines(strings.TrimSpace(floors)) {
		from, to, _ := strings.Cut(line, ":")
		allowed[from] = strings.Fields(to)
	}
	beneath := func(from string) []string {
		var all []string
		queue := slices.Clone(allowed[from])
		for len(queue) > 0 {
			all = append(all, queue[0])
			queue = append(queue[1:], allowed[queue[0]]...)
		}
		return all
	}
	modules := map[string][]string{}
	for line := range strings.Lines(strings.TrimSpace(outside)) {
		module, rooms, _ := strings.Cut(line, ":")
		modules[module] = strings.Fields(rooms)
	}
	checked := 0
	root := filepath.Join("..", "..")
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		relative, err := filepath.Rel(root, filepath.Dir(path))
		if err != nil {
			return err
		}
		room := strings.TrimPrefix(filepath.ToSlash(relative), "internal/")
		if strings.HasPrefix(room, "tools/") {
			return nil
		}
		if _, known := allowed[room]; !known {
			t.Errorf("%s: the room %q isn't on the drawing of the house", path, room)
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		checked++
		for _, i := range file.Imports {
			name := strings.Trim(i.Path.Value, `"`)
			ours, ok := strings.CutPrefix(name, "drivewright/internal/")
			if !ok {
				ours, ok = strings.CutPrefix(name, "drivewright/")
			}
			if ok {
				if !slices.Contains(beneath(room), ours) {
					t.Errorf("%s imports %s, which doesn't lie beneath %s", path, ours, room)
				}
				continue
			}
			if strings.Contains(name, ".") {
				ok := false
				for module, rooms := range modules {
					ok = ok || strings.HasPrefix(name, module) && slices.Contains(rooms, room)
				}
				if !ok {
					t.Errorf("%s imports %s, which isn't allowed in %s", path, name, room)
				}
				continue
			}
			pure := room != "web" && room != "cmd/drivewright" && !strings.HasSuffix(room, "test") && room != "output/pdf/pdftest"
			if instead, bad := impure[name]; bad && pure {
				t.Errorf("%s imports %s: below web the code is pure: %s", path, name, instead)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if checked < 10 {
		t.Fatalf("only %d files were checked: the walk is broken", checked)
	}
}
