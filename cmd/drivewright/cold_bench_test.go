package main

import (
	"errors"
	"os/exec"
	"path/filepath"
	"testing"
)

// BenchmarkCheckColdProcess starts the program anew for each check of an example, as a shell or an editor does.
func BenchmarkCheckColdProcess(b *testing.B) {
	program := filepath.Join(b.TempDir(), "drivewright")
	build := exec.Command("go", "build", "-trimpath", "-ldflags", "-s -w", "-o", program, ".")
	build.Env = append(build.Environ(), "CGO_ENABLED=0")
	if out, err := build.CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	for b.Loop() {
		err := exec.Command(program, "check", "../../examples/drum-sander.job.yaml").Run()
		var exit *exec.ExitError
		if !errors.As(err, &exit) || exit.ExitCode() != exitFindings {
			b.Fatalf("the check ended with %v, want findings that block", err)
		}
	}
}
