package main

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/input/job"
	"drivewright/internal/plan"
	"drivewright/internal/web"
)

type setCommand struct {
	Job   string `arg:"" help:"The job file."`
	Path  string `arg:"" help:"Where the value stands, such as supply.breaker."`
	Value string `arg:"" help:"What to write there, such as \"40 A\"; an empty value takes it out."`
}

// Run changes one value; everything else of the file stays as it was, and the text before is kept as a version.
func (c setCommand) Run(b *bench) error {
	store, name, err := storeOf(c.Job, b)
	if err != nil {
		return err
	}
	defer store.Close() //nolint:errcheck // nothing is pending: Save has synced
	text, token, err := store.Load(name)
	if err != nil {
		return fileNamed(c.Job, err)
	}
	before := job.Read(name, text)
	changed, err := before.Set(c.Path, c.Value)
	if err != nil {
		if near := nearestPaths(c.Path); len(near) > 0 {
			return usage("%w; %s", err, explain.DidYouMean(near))
		}
		return usage("%w", err)
	}
	if _, err := store.Save(name, changed, token); err != nil {
		return usage("%w", err)
	}
	after := job.Read(name, changed)
	fmt.Fprintf(b.out, "%s: %s → %s\n", c.Path, writtenAt(before, c.Path), writtenAt(after, c.Path))
	was, is := plan.Broken(before, b.after(checkingMost)).Findings, plan.Broken(after, b.after(checkingMost)).Findings
	for _, change := range []struct {
		word     string
		findings []explain.Finding
	}{{"gone", notAmong(was, is)}, {"new", notAmong(is, was)}} {
		for _, f := range change.findings {
			fmt.Fprintf(b.out, "  %s  %s [%s]\n", change.word, f.Severity, f.Rule)
		}
	}
	fmt.Fprintf(b.out, "%s: %s\n", c.Job, countInWords(is))
	return nil
}

// writtenAt is what the file says at the path.
func writtenAt(f *job.File, path string) string { return cmp.Or(f.Typed(path), "not written") }

// notAmong returns the findings that the others lack: those of rules that find less there. A finding that only moved, from a
// section to the value that was just written in it, is the same finding.
func notAmong(findings, others []explain.Finding) []explain.Finding {
	var list []explain.Finding
	for _, f := range findings {
		ofRule := func(o explain.Finding) bool { return o.Rule == f.Rule }
		same := func(o explain.Finding) bool { return ofRule(o) && o.Path == f.Path }
		if count(findings, ofRule) > count(others, ofRule) && !slices.ContainsFunc(others, same) && !slices.ContainsFunc(list, same) {
			list = append(list, f)
		}
	}
	return list
}

func count(findings []explain.Finding, is func(explain.Finding) bool) int {
	n := 0
	for _, f := range findings {
		if is(f) {
			n++
		}
	}
	return n
}

// nearestPaths are the paths of the file format that may have been meant by what was written, when that isn't one: the same
// key in another section, or a like spelling.
func nearestPaths(written string) []string {
	_, key, sectioned := strings.Cut(written, ".")
	if !sectioned {
		key = written
	}
	var paths, elsewhere []string
	for _, f := range job.Fields() {
		if f.Path == written {
			return nil
		}
		if f.Key == key {
			elsewhere = append(elsewhere, f.Path)
		}
		paths = append(paths, f.Path)
	}
	if len(elsewhere) > 0 {
		return elsewhere[:min(len(elsewhere), 4)]
	}
	return explain.Near(written, paths)
}

type earlierCommand struct {
	Job     string `arg:"" help:"The job file."`
	Version string `arg:"" optional:"" help:"The version to bring back, as listed; the list if left out."`
}

// Run lists the versions that were kept of a job file, or brings one back; the present text is kept as a version first.
func (c earlierCommand) Run(b *bench) error {
	store, name, err := storeOf(c.Job, b)
	if err != nil {
		return err
	}
	defer store.Close() //nolint:errcheck // nothing is pending: Save has synced
	versions, err := store.Versions(name)
	if err != nil {
		return usage("%w", err)
	}
	if c.Version == "" {
		if _, _, err := store.Load(name); err != nil && len(versions) == 0 {
			return fileNamed(c.Job, err)
		}
		if len(versions) == 0 {
			fmt.Fprintf(b.out, "no earlier version of %s is kept\n", c.Job)
		}
		for _, v := range versions {
			fmt.Fprintf(b.out, "%s  %s\n", v.ID, v.When.Local().Format("2006-01-02 15:04:05"))
		}
		return nil
	}
	_, token, err := store.Load(name)
	if err != nil && !errors.Is(err, web.ErrMissing) {
		return fileNamed(c.Job, err)
	}
	if _, err := store.BringBack(name, c.Version, token); err != nil {
		return usage("%w", err)
	}
	fmt.Fprintf(b.out, "%s is version %s again; what it was before is kept as a version\n", c.Job, c.Version)
	return nil
}

// storeOf opens the store of the folder that the job file is in.
func storeOf(path string, b *bench) (*Store, string, error) {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return nil, "", fileNamed(path, errFolder)
	}
	if _, err := os.Stat(filepath.Dir(path)); err != nil {
		return nil, "", usage("there is no folder %s", filepath.Dir(path))
	}
	store, err := openStore(filepath.Dir(path), b.now)
	if err != nil {
		return nil, "", usage("%w", err)
	}
	return store, filepath.Base(path), nil
}
