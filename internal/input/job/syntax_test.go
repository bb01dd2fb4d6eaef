package job

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"github.com/google/go-cmp/cmp"
)

// The meaning of what we read is checked against a YAML reader that nobody here wrote: whatever ours takes without a
// problem must be the same tree there.

// ours writes a tree as text: {key: value}, [item], 'scalar', null.
func ours(n *node) string {
	if n == nil {
		return "null"
	}
	var parts []string
	switch n.shape {
	case scalar:
		return fmt.Sprintf("%q", n.text)
	case mapping:
		for _, e := range n.entries {
			parts = append(parts, fmt.Sprintf("%q: %s", e.key.text, ours(e.value)))
		}
		return "{" + strings.Join(parts, ", ") + "}"
	case sequence:
		for _, i := range n.items {
			parts = append(parts, ours(i.value))
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case nothing, unread:
	}
	return "null"
}

// theirs writes the tree of the independent reader as text.
func theirs(n ast.Node) string {
	var parts []string
	switch n := n.(type) {
	case nil:
		return "null"
	case *ast.MappingNode:
		for _, v := range n.Values {
			parts = append(parts, fmt.Sprintf("%q: %s", keyOf(v.Key), theirs(v.Value)))
		}
		return "{" + strings.Join(parts, ", ") + "}"
	case *ast.MappingValueNode:
		return fmt.Sprintf("{%q: %s}", keyOf(n.Key), theirs(n.Value))
	case *ast.SequenceNode:
		for _, v := range n.Values {
			parts = append(parts, theirs(v))
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case *ast.StringNode:
		return fmt.Sprintf("%q", n.Value)
	case *ast.LiteralNode:
		return fmt.Sprintf("%q", n.Value.Value)
	case *ast.NullNode:
		return "null"
	}
	return fmt.Sprintf("%q", n.GetToken().Value)
}

func keyOf(k ast.MapKeyNode) string {
	if s, ok := k.(*ast.StringNode); ok {
		return s.Value
	}
	return k.GetToken().Value
}

// TestSyntaxAgainstAnotherReader compares trees. The pieces after the files are the examples of YAML 1.2.2 that use only
// what job files use; the number before each is that of the specification.
func TestSyntaxAgainstAnotherReader(t *testing.T) {
	var texts []string
	files, err := filepath.Glob("testdata/*.job.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal("no files", err)
	}
	for _, f := range files {
		src, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		texts = append(texts, string(src))
	}
	texts = append(texts, specification...)
	for _, text := range texts {
		r := newReader("", []byte(text))
		root := r.read()
		if len(r.problems) > 0 {
			t.Errorf("%q: %s", text, r.problems[0].Message.Show(quantity.InchUnits))
			continue
		}
		f, err := parser.ParseBytes([]byte(text), 0)
		if err != nil {
			t.Errorf("%q: the other reader refuses it: %v", text, err)
			continue
		}
		if d := cmp.Diff(theirs(f.Docs[0].Body), ours(root)); d != "" {
			t.Errorf("%q: theirs (-), ours (+):\n%s", text, d)
		}
	}
}

var specification = []string{
	/* 2.1 */ "- Mark McGwire\n- Sammy Sosa\n- Ken Griffey\n",
	/* 2.2 */ "hr:  65    # Home runs\navg: 0.278 # Batting average\nrbi: 147   # Runs Batted In\n",
	/* 2.3 */ "american:\n- Boston Red Sox\n- Detroit Tigers\nnational:\n- New York Mets\n- Chicago Cubs\n",
	/* 2.4 */ "-\n  name: Mark McGwire\n  hr:   65\n-\n  name: Sammy Sosa\n  hr:   63\n",
	/* 2.5 */ "- [name        , hr, avg  ]\n- [Mark McGwire, 65, 0.278]\n- [Sammy Sosa  , 63, 0.288]\n",
	/* 2.6 */ "Mark McGwire: {hr: 65, avg: 0.278}\nSammy Sosa: {\n    hr: 63,\n    avg: 0.288,\n  }\n",
	/* 2.9 */ "---\nhr: # 1998 hr ranking\n- Mark McGwire\n- Sammy Sosa\n# 1998 rbi ranking\nrbi:\n- Sammy Sosa\n- Ken Griffey\n",
	/* 2.12 */ "---\n# Products purchased\n- item    : Super Hoop\n  quantity: 1\n- item    : Basketball\n  quantity: 4\n",
	/* 2.15 */ "x: >\n Sammy Sosa completed another\n fine season with great stats.\n\n   63 Home Runs\n   0.288 Batting Average\n\n What a year!\n",
	/* 2.16 */ "name: Mark McGwire\naccomplishment: >\n  Mark set a major league\n  home run record in 1998.\nstats: |\n  65 Home Runs\n  0.278 Batting Average\n",
	/* 2.17 */ `unicode: "Sosa did fine.\u263A"` + "\n" + `control: "\b1998\t1999\t2000"` + "\n" + `hex esc: "\x0d\x0a is \r"` + "\n" + `single: '"Howdy!" he cried.'` + "\n" + `quoted: ' # Not a ''comment''.'` + "\n",
	/* 2.18 */ "plain:\n  This unquoted scalar\n  spans many lines.\n\nquoted: \"So does this\n  quoted scalar.\"\n",
	/* 6.1 */ "Not indented:\n By one space: |\n    By four\n      spaces\n Flow style: [    # Leading spaces\n   By two,        # in flow style\n  Also by two,    # are neither\n  Still by two    # content nor\n    ]             # indentation.\n",
	/* 7.4 */ `'implicit block key' : [ 'x', "implicit flow key" ]` + "\n",
	/* 7.13 */ "- [ one, two, ]\n- [three ,four]\n",
	/* 7.15 */ "- { one : two , three: four , }\n- {five: six,seven : eight}\n",
	/* 8.4 */ "strip: |-\n  text\nclip: |\n  text\nkeep: |+\n  text\n",
	/* 8.7 */ "a: |\n literal\n \ttext\n",
	/* 8.10 */ "x: >\n\n folded\n line\n\n next\n line\n   * bullet\n\n   * list\n   * lines\n\n last\n line\n\n# Comment\n",
	/* 8.14 */ "block sequence:\n  - one\n  - two : three\n",
	/* 8.15 */ "- # Empty\n- |\n block node\n- - one # Compact\n  - two # sequence\n- one: two # Compact mapping\n",
	/* 8.16 */ "block mapping:\n key: value\n",
}

// FuzzSyntax compares trees for whatever the fuzzer finds. A difference may be the other reader's: ask a third one, then add
// it to judgeFlaws. So this target is for a person who looks, not for an automatic run.
func FuzzSyntax(f *testing.F) {
	seed(f)
	for _, s := range specification {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r := newReader("", []byte(text))
		root := r.read()
		checkSpans(t, r.src, root)
		if len(r.problems) > 0 || root == nil || root.shape != mapping { // a job is a mapping
			return
		}
		theirTree, ok := judge(text)
		if !ok {
			return
		}
		ourTree := ours(root)
		if strings.Contains(text, ">") { // it folds some line breaks otherwise; which words there are is still compared
			theirTree, ourTree = breaks.ReplaceAllString(theirTree, " "), breaks.ReplaceAllString(ourTree, " ")
		}
		if d := cmp.Diff(theirTree, ourTree); d != "" {
			t.Errorf("%q: theirs (-), ours (+):\n%s", text, d)
		}
	})
}

// judgeFlaws are the texts that the other reader is known to take for something else than YAML 1.2.2 says. It drops spaces at
// the end of the last block, takes <<< for a merge, ends a key in brackets at a colon without a space and the document at
// "...x", counts a line in a kept block that has none, gives a key below an empty list item to the item, and miscounts lone carriage returns: on each of these
// a third reader, of another family, agreed with ours. It also drops tabs inside plain scalars, which the third one refuses.
var judgeFlaws = []*regexp.Regexp{regexp.MustCompile(`\t`), regexp.MustCompile(` $`), regexp.MustCompile(`<<`), regexp.MustCompile(`(?s)[{\[].*:[^\s]`), regexp.MustCompile(`::`), regexp.MustCompile(`(?m)^(\.\.\.|---)[^\s]`), regexp.MustCompile(`[|>][0-9]?[+]\s*$`),
	regexp.MustCompile(`(?m)^\s*-\s*$`), regexp.MustCompile(`\r([^\n]|$)`)}

// breaks are spaces and line breaks in a tree written as text.
var breaks = regexp.MustCompile(`(\\n| )+`)

// judge returns the other reader's tree, false where it is known to differ from YAML or has no answer.
func judge(text string) (tree string, ok bool) {
	defer func() {
		if recover() != nil { // the other reader is not our subject
			ok = false
		}
	}()
	for _, flaw := range judgeFlaws {
		if flaw.MatchString(text) {
			return "", false
		}
	}
	f, err := parser.ParseBytes([]byte(strings.TrimPrefix(text, "\ufeff")), 0, parser.AllowDuplicateMapKey())
	if err != nil {
		return "", false // it refuses some empty blocks and odd keys that YAML 1.2.2 allows; the table above allows it no refusal
	}
	if len(f.Docs) == 0 {
		return "null", true
	}
	return theirs(f.Docs[0].Body), true
}

// checkSpans checks that every node lies inside the file and its parts inside it, in order.
func checkSpans(t *testing.T, src []byte, n *node) {
	t.Helper()
	if n == nil {
		return
	}
	if n.start < 0 || n.end < n.start || n.end > len(src) {
		t.Fatalf("node %+v lies outside the %d bytes of the file", n, len(src))
	}
	at := n.start
	for _, e := range n.entries {
		if e.key.start < at || e.key.end < e.key.start || e.colon < e.key.end || e.value != nil && e.value.start <= e.colon || e.end() > n.end {
			t.Fatalf("entry %+v is out of order in %d to %d", e, n.start, n.end)
		}
		at = e.end()
		checkSpans(t, src, e.value)
	}
	for _, i := range n.items {
		if i.dash < at || i.value != nil && i.value.start < i.dash || i.end() > n.end {
			t.Fatalf("item %+v is out of order in %d to %d", i, n.start, n.end)
		}
		at = i.end()
		checkSpans(t, src, i.value)
	}
}

// seed adds the files under testdata and their lines to the fuzzer's start, and refuses to start with too few.
func seed(f *testing.F) {
	f.Helper()
	files, err := filepath.Glob("testdata/*.job.yaml")
	if err != nil {
		f.Fatal(err)
	}
	wrong, err := filepath.Glob("testdata/mistakes/*.job.yaml")
	if err != nil {
		f.Fatal(err)
	}
	count := 0
	for _, path := range append(files, wrong...) {
		src, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(src))
		count++
		for _, l := range strings.Split(string(src), "\n") {
			if l = strings.TrimSpace(l); l != "" {
				f.Add(l + "\n")
				count++
			}
		}
	}
	if count < 150 {
		f.Fatalf("only %d seeds, want 150 or more: the test data has shrunk", count)
	}
}

// explainWrite prints a finding for its errors and panics.
func explainWrite(p explain.Finding, src []byte) error {
	return explain.WriteFinding(io.Discard, p, src, explain.TextForm{Units: quantity.MetricUnits, Colour: true, Width: 60})
}
