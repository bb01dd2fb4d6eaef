package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"drivewright/internal/trade/prove"
	"drivewright/internal/web"
)

func record(t testing.TB, s *Store, line string) bool {
	t.Helper()
	added, err := s.Record("a.job.yaml", line)
	if err != nil {
		t.Fatal(err)
	}
	return added
}

func recorded(t testing.TB, s *Store) string {
	t.Helper()
	text, err := s.Records("a.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestRecords(t *testing.T) {
	s, folder := open(t)
	if got := recorded(t, s); got != "" {
		t.Errorf("a job without records has %q", got)
	}
	for _, line := range []string{"R1 open", "R2 4.7 kohm\n", "R1 0.3 ohm"} {
		if !record(t, s, line) {
			t.Errorf("%q wasn't added", line)
		}
	}
	if record(t, s, "R2 4.7 kohm") || record(t, s, "R1 open\n") {
		t.Error("the same line was added twice")
	}
	if !record(t, s, "R1") || !record(t, s, "1 open") {
		t.Error("part of a line counts as the line")
	}
	const want = "R1 open\nR2 4.7 kohm\nR1 0.3 ohm\nR1\n1 open\n"
	if got := recorded(t, s); got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if text, err := os.ReadFile(filepath.Join(folder, "a.readings")); err != nil || string(text) != want {
		t.Errorf("the file beside the job holds %q (%v)", text, err)
	}
	if list, err := s.List(); err != nil || len(list) != 1 {
		t.Errorf("the records count as a job: %v (%v)", list, err)
	}
	if text, _, err := s.Load("a.job.yaml"); err != nil || string(text) != "one" {
		t.Errorf("the job file is now %q (%v)", text, err)
	}
}

// A crash may leave any part of the last line. The next line begins below what was left, whole; nothing before it changes; what was
// left never counts as a reading; and if all but the end arrived, sending it again doesn't write it twice.
func TestATornLineIsLeftAndANewOneBegun(t *testing.T) {
	before := prove.Taken{Reading: "R1", Value: "open"}.Line() + prove.Taken{Reading: "R2", Value: "beep"}.Line()
	last := strings.TrimSuffix(prove.Taken{Reading: "R3", Value: "4.7 kohm", At: "2026-11-25 14:05:10", By: `A\B`, Meter: "pocket | meter"}.Line(), "\n")
	next := strings.TrimSuffix(prove.Taken{Reading: "R4", Value: "12 ohm", By: "AB"}.Line(), "\n")
	for cut := range len(last) + 1 {
		s, folder := open(t)
		if err := os.WriteFile(filepath.Join(folder, "a.readings"), []byte(before+last[:cut]), 0o644); err != nil {
			t.Fatal(err)
		}
		record(t, s, last) // the page hasn't heard that it was written, and sends it again
		record(t, s, next)
		want := before + last[:cut] + tornMark + last + "\n" + next + "\n"
		broken := 1
		if cut == 0 || cut == len(last) {
			want, broken = before+last+"\n"+next+"\n", 0
		}
		if got := recorded(t, s); got != want {
			t.Errorf("cut at %d: got %q, want %q", cut, got, want)
		}
		taken, found := prove.ReadRecords("a.readings", []byte(recorded(t, s)))
		if len(taken) != 4 || len(found) != broken || taken[2].Value != "4.7 kohm" {
			t.Errorf("cut at %d: %d readings count, want 4: %v; %d are reported, want %d", cut, len(taken), taken, len(found), broken)
		}
	}
}

func TestHostileRecords(t *testing.T) {
	s, folder := open(t)
	for _, line := range []string{"", "\n", "R1 open\nR2 open", "R1\r2", "R1\x00", strings.Repeat("x", longestRecord+1)} {
		if _, err := s.Record("a.job.yaml", line); err == nil {
			t.Errorf("Record takes the line %.40q", line)
		}
	}
	for _, name := range []string{"", "a", "a.readings", "../a.job.yaml", "..\\a.job.yaml", ".hidden.job.yaml", "sub/a.job.yaml", "con.job.yaml", "a\x00.job.yaml"} {
		if _, err := s.Record(name, "R1 open"); err == nil {
			t.Errorf("Record takes the name %q", name)
		}
		if _, err := s.Records(name); err == nil {
			t.Errorf("Records takes the name %q", name)
		}
	}
	if _, err := s.Record("nobody.job.yaml", "R1 open"); !errors.Is(err, web.ErrMissing) {
		t.Errorf("records of a job that isn't there: %v", err)
	}
	outside := filepath.Join(t.TempDir(), "outside")
	if err := os.WriteFile(outside, []byte("secret"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, target := range []string{outside, "a.job.yaml"} {
		link := filepath.Join(folder, "a.readings")
		if err := os.Symlink(target, link); err != nil {
			t.Skip("no links here:", err)
		}
		if text, err := s.Records("a.job.yaml"); err == nil {
			t.Errorf("Records follows a link to %s and reads %q", target, text)
		}
		if _, err := s.Record("a.job.yaml", "R1 open"); err == nil {
			t.Errorf("Record follows a link to %s", target)
		}
		if err := os.Remove(link); err != nil {
			t.Fatal(err)
		}
	}
	for path, want := range map[string]string{outside: "secret", filepath.Join(folder, "a.job.yaml"): "one"} {
		if text, err := os.ReadFile(path); err != nil || string(text) != want {
			t.Errorf("%s is now %q (%v)", path, text, err)
		}
	}
	if err := os.WriteFile(filepath.Join(folder, "a.readings"), bytes.Repeat([]byte("0123456789abcde\n"), mostRecords/16), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Record("a.job.yaml", "R1 open"); err == nil {
		t.Error("the records grow without end")
	}
}

// Two programs that write into the same records neither lose nor mix lines, and a line that both bring stands there once.
func TestTwoStoresRecord(t *testing.T) {
	one, folder := open(t)
	two, err := openStore(folder, ticking())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = two.Close() })
	var wait sync.WaitGroup
	for n, s := range []*Store{one, two} {
		wait.Go(func() {
			for i := range 40 {
				if _, err := s.Record("a.job.yaml", fmt.Sprintf("own %d %d", n, i)); err != nil {
					t.Error(err)
				}
				if _, err := s.Record("a.job.yaml", fmt.Sprintf("both %d", i)); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wait.Wait()
	seen := map[string]int{}
	for line := range strings.Lines(recorded(t, one)) {
		seen[line]++
	}
	if len(seen) != 120 {
		t.Errorf("%d different lines, want 120", len(seen))
	}
	for line, times := range seen {
		if times != 1 {
			t.Errorf("%q stands there %d times", line, times)
		}
	}
}

func TestWatchHearsOfRecords(t *testing.T) {
	s, _ := open(t)
	s.poll = time.Millisecond
	changes := s.Watch(t.Context(), "a.job.yaml")
	record(t, s, "R1 open")
	select {
	case <-changes:
	case <-time.After(5 * time.Second):
		t.Error("nothing was heard of the new line")
	}
}

// TestRecordForever is the child of TestKilledWhileRecording: it says each number once its line is kept.
func TestRecordForever(t *testing.T) {
	folder := os.Getenv("RECORD_FOREVER")
	if folder == "" {
		t.Skip("runs as a child only")
	}
	s, err := openStore(folder, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	first, err := strconv.Atoi(os.Getenv("RECORD_FROM"))
	if err != nil {
		t.Fatal(err)
	}
	for n := first; ; n++ {
		if _, err := s.Record("a.job.yaml", recordLine(n)); err != nil {
			t.Fatal(err)
		}
		fmt.Println("kept", n)
	}
}

func recordLine(n int) string { return fmt.Sprintf("R%d %s", n, strings.Repeat("x", 40+n%50)) }

// TestKilledWhileRecording kills a program that records in a loop, again and again, at moments of chance: every line that it said
// to be kept is there, once and whole, in order.
func TestKilledWhileRecording(t *testing.T) {
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "a.job.yaml"), []byte("one"), 0o644); err != nil {
		t.Fatal(err)
	}
	kills := 40
	if testing.Short() {
		kills = 8
	}
	random := rand.New(rand.NewPCG(11, 25))
	kept := -1
	for range kills {
		child := exec.Command(os.Args[0], "-test.run=^TestRecordForever$", "-test.v")
		// Its first line is the one that the page isn't sure of: it is sent again.
		child.Env = append(os.Environ(), "RECORD_FOREVER="+folder, fmt.Sprintf("RECORD_FROM=%d", max(kept, 0)))
		out, err := child.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := child.Start(); err != nil {
			t.Fatal(err)
		}
		said := bufio.NewScanner(out)
		begun := false
		for said.Scan() {
			if n, ok := strings.CutPrefix(said.Text(), "kept "); ok {
				if kept, err = strconv.Atoi(n); err != nil {
					t.Fatal(err)
				}
				if !begun {
					begun = true
					time.AfterFunc(time.Duration(random.IntN(15_000))*time.Microsecond, func() { _ = child.Process.Kill() })
				}
			}
		}
		if err := child.Wait(); err == nil || child.ProcessState.Exited() {
			t.Fatalf("the child ended by itself: %v", err)
		}
		text, err := os.ReadFile(filepath.Join(folder, "a.readings"))
		if err != nil {
			t.Fatal(err)
		}
		next := 0
		for line := range strings.Lines(string(text)) {
			if line == recordLine(next)+"\n" {
				next++
			} else if whole := strings.HasSuffix(line, "\n"); whole {
				t.Fatalf("line %d is %q", next, line)
			}
		}
		if next <= kept {
			t.Fatalf("%d lines are there, %d were said to be kept", next, kept+1)
		}
	}
	if kept < kills {
		t.Errorf("%d kills in %d lines: the child hardly ever wrote", kills, kept)
	}
	t.Logf("%d kills, %d lines", kills, kept+1)
}

func BenchmarkRecord(b *testing.B) {
	s, _ := open(b)
	n := 0
	for b.Loop() {
		n++
		record(b, s, strconv.Itoa(n))
	}
}
