package main

import (
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"drivewright": func() { os.Exit(run(os.Args[1:], theMachine())) },
	})
}

// TestStories runs the command line's stories: each file holds commands, input files and what must come out.
func TestStories(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(e *testscript.Env) error {
			e.Setenv("HOME", e.WorkDir)
			return nil
		},
	})
}
