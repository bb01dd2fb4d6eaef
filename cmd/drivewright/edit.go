package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

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
	changed, err := job.Read(name, text).Set(c.Path, c.Value)
	if err != nil {
		if near := nearestPath(c.Path); near != "" {
			return usage("%w; did you mean %s?", err, near)
		}
		return usage("%w", err)
	}
	if _, err := store.Save(name, changed, token); err != nil {
		return usage("%w", err)
	}
	fmt.Fprintf(b.out, "%s: %s\n", c.Job, countInWords(plan.Make(job.Read(name, changed)).Findings))
	return nil
}

// nearestPath is the path of the file format nearest to what was written, when that isn't one.
func nearestPath(written string) string {
	var paths []string
	for _, f := range job.Fields() {
		if f.Path == written {
			return ""
		}
		paths = append(paths, f.Path)
	}
	return explain.Nearest(written, paths)
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
	if _, err := os.Stat(filepath.Dir(path)); err != nil {
		return nil, "", usage("there is no folder %s", filepath.Dir(path))
	}
	store, err := openStore(filepath.Dir(path), b.now)
	if err != nil {
		return nil, "", usage("%w", err)
	}
	return store, filepath.Base(path), nil
}
