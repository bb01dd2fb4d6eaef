// Package pdftest runs the PDF tools that the tests measure with: poppler's and qpdf, general-purpose programs that nobody
// here wrote.
package pdftest

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// Run writes the PDF to a file and runs the tool on it, with FILE and FOLDER in the arguments replaced by its path and that
// of its folder. It returns what the tool printed. A tool that is absent skips the test, unless DRIVEWRIGHT_REQUIRE_TOOLS is
// set, as it is in the checks that run before a change goes in.
func Run(t testing.TB, pdf []byte, tool string, arguments ...string) string {
	t.Helper()
	if _, err := exec.LookPath(tool); err != nil {
		if os.Getenv("DRIVEWRIGHT_REQUIRE_TOOLS") != "" {
			t.Fatalf("%s is needed for this test and isn't installed", tool)
		}
		t.Skipf("%s isn't installed", tool)
	}
	folder := t.TempDir()
	file := filepath.Join(folder, "test.pdf")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	filled := make([]string, len(arguments))
	for n, a := range arguments {
		switch a {
		case "FILE":
			a = file
		case "FOLDER":
			a = folder
		}
		filled[n] = a
	}
	command := exec.CommandContext(t.Context(), tool, filled...)
	command.Dir = folder
	out, err := command.CombinedOutput()
	if err != nil {
		t.Fatalf("%s %v: %v\n%s", tool, arguments, err, out)
	}
	return string(out)
}
