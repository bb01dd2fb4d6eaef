package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"drivewright/internal/base/explain"
	"drivewright/internal/plan"
)

// TestReadmeRuns runs what the README tells a newcomer to type, in its order, on the job that it shows: each command must
// exist, take these arguments and find these values.
func TestReadmeRuns(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	shown := regexp.MustCompile("(?s)```yaml\n(.*?)```").FindSubmatch(text)
	if shown == nil {
		t.Fatal("the README shows no job file")
	}
	t.Chdir(t.TempDir())
	if err := os.WriteFile("lathe.job.yaml", shown[1], 0o644); err != nil {
		t.Fatal(err)
	}
	ran := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?m)^    drivewright (\w+)(.*)$`).FindAllStringSubmatch(string(text), -1) {
		line, _, _ := strings.Cut(m[2], "  #")
		line, _, _ = strings.Cut(line, " # ")
		line, _, _ = strings.Cut(line, " > ")
		args := append([]string{m[1]}, arguments(line)...)
		switch m[1] {
		case "formula":
			args = inPlaceOf(args, "NAME", plan.Formulas()[0].Name)
			if n := slices.Index(args, "key=value"); n >= 0 {
				args = slices.Replace(args, n, n+2, examplesOf(plan.Formulas()[0])...) // key=value …
			}
		case "rules":
			args = inPlaceOf(args, "NAME", plan.Rules()[0].Name)
		case "serve":
			args = append(args, "--no-open", "--port", "0")
		}
		var out, complaints bytes.Buffer
		interrupted := make(chan struct{})
		close(interrupted)
		b := &bench{in: strings.NewReader(""), out: &out, err: &complaints, now: time.Now, home: os.UserHomeDir, version: "test", interrupted: func() <-chan struct{} { return interrupted }}
		switch code := run(args, b); {
		case code == exitUsage:
			t.Errorf("drivewright %s%s: %s", m[1], m[2], complaints.String())
		case code == exitFindings && m[1] != "check" && m[1] != "prove":
			t.Errorf("drivewright %s%s ended as if it had checked", m[1], m[2])
		case out.Len() == 0:
			t.Errorf("drivewright %s%s said nothing", m[1], m[2])
		}
		ran[m[1]] = true
	}
	for _, command := range []string{"new", "check", "sheet", "prove", "papers", "circuit", "why", "set", "earlier", "serve", "schema", "formula", "rules"} {
		if !ran[command] {
			t.Errorf("the README doesn't show the command %s", command)
		}
	}
}

// arguments splits a command line at its spaces, quoted text in one piece.
func arguments(line string) []string {
	var args []string
	for _, m := range regexp.MustCompile(`"([^"]*)"|(\S+)`).FindAllStringSubmatch(line, -1) {
		args = append(args, m[1]+m[2])
	}
	return args
}

func inPlaceOf(args []string, word, name string) []string {
	if n := slices.Index(args, word); n >= 0 {
		args[n] = name
	}
	return args
}

func examplesOf(f *explain.Formula) []string {
	var args []string
	for _, p := range f.Inputs {
		args = append(args, explain.Slug(p.Name)+"="+p.Example)
	}
	return args
}
