package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

func TestExamplesComeIntoAnEmptyFolderOnly(t *testing.T) {
	jobs := func(folder string) int {
		found, err := filepath.Glob(filepath.Join(folder, "*"+jobEnding))
		if err != nil {
			t.Fatal(err)
		}
		return len(found)
	}
	empty, full := t.TempDir(), t.TempDir()
	if err := os.WriteFile(filepath.Join(full, "letter.txt"), []byte("dear all"), 0o600); err != nil {
		t.Fatal(err)
	}
	for folder, want := range map[string]int{empty: 3, full: 0} {
		if err := copyExamples(folder, &bytes.Buffer{}); err != nil {
			t.Fatal(err)
		}
		if got := jobs(folder); got != want {
			t.Errorf("got %d jobs, want %d", got, want)
		}
	}
	if err := copyExamples(filepath.Join(empty, "no such folder"), &bytes.Buffer{}); err == nil {
		t.Error("a folder that isn't there was no error")
	}
}
