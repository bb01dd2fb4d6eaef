package main

import (
	"bytes"
	"net"
	"strconv"
	"strings"
	"testing"
	"time"
)

// TestServeSaysThatThePortIsTaken holds the port and starts the live sheet on it: it must go on with a free one and say why,
// or the user looks for the jobs at the old address.
func TestServeSaysThatThePortIsTaken(t *testing.T) {
	holder, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer holder.Close() //nolint:errcheck // the test is over
	port := strconv.Itoa(holder.Addr().(*net.TCPAddr).Port)
	said := serveOnce(t, "serve", t.TempDir(), "--no-open", "--port", port)
	if !strings.Contains(said, "another program has port "+port) || strings.Contains(said, "are on http://127.0.0.1:"+port+"/") {
		t.Errorf("with port %s taken it says %q", port, said)
	}
	if err := holder.Close(); err != nil {
		t.Fatal(err)
	}
	said = serveOnce(t, "serve", t.TempDir(), "--no-open", "--port", port)
	if strings.Contains(said, "another program") || !strings.Contains(said, "are on http://127.0.0.1:"+port+"/") {
		t.Errorf("with port %s free it says %q", port, said)
	}
}

// serveOnce runs a serve command that is interrupted at once, and returns what it said.
func serveOnce(t *testing.T, args ...string) string {
	t.Helper()
	var out bytes.Buffer
	interrupted := make(chan struct{})
	close(interrupted)
	b := &bench{in: strings.NewReader(""), out: &out, err: &out, now: time.Now, home: func() (string, error) { return t.TempDir(), nil }, version: "test", interrupted: interrupted}
	if code := run(args, b); code != exitFine {
		t.Fatalf("%v ended with %d: %s", args, code, out.String())
	}
	return out.String()
}
