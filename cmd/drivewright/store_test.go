package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"drivewright/internal/web"
)

// ticking returns a clock that is a minute further at each look.
func ticking() func() time.Time {
	var mu sync.Mutex
	at := time.Date(2026, 3, 1, 8, 0, 0, 0, time.UTC)
	return func() time.Time {
		mu.Lock()
		defer mu.Unlock()
		at = at.Add(time.Minute)
		return at
	}
}

// open opens a store on a fresh folder that holds a.job.yaml with the text "one".
func open(t testing.TB) (*Store, string) {
	t.Helper()
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "a.job.yaml"), []byte("one"), 0o640); err != nil {
		t.Fatal(err)
	}
	s, err := openStore(folder, ticking())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	return s, folder
}

// save saves the text over whatever is there now.
func save(t testing.TB, s *Store, text string) {
	t.Helper()
	_, token, err := s.Load("a.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Save("a.job.yaml", []byte(text), token); err != nil {
		t.Fatal(err)
	}
}

// earlier returns the texts of the kept versions, the latest first.
func earlier(t testing.TB, s *Store) []string {
	t.Helper()
	list, err := s.Versions("a.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var texts []string
	for _, v := range list {
		text, err := s.Version("a.job.yaml", v.ID)
		if err != nil {
			t.Fatal(err)
		}
		texts = append(texts, string(text))
	}
	return texts
}

func TestSaveAndLoad(t *testing.T) {
	s, folder := open(t)
	text, token, err := s.Load("a.job.yaml")
	if err != nil || string(text) != "one" {
		t.Fatalf("got %q, %v", text, err)
	}
	token2, err := s.Save("a.job.yaml", []byte("two"), token)
	if err != nil {
		t.Fatal(err)
	}
	text, token3, err := s.Load("a.job.yaml")
	if err != nil || string(text) != "two" || token3 != token2 || token2 == token {
		t.Errorf("got %q, tokens %s, %s, %s, %v", text, token, token2, token3, err)
	}
	if info, err := os.Stat(filepath.Join(folder, "a.job.yaml")); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o640 {
		t.Errorf("permissions are %v (%v), want those of before", info.Mode(), err)
	}
	if got := earlier(t, s); len(got) != 1 || got[0] != "one" {
		t.Errorf("earlier texts are %q, want [one]", got)
	}
	list, err := s.List()
	if err != nil || len(list) != 1 || list[0].Name != "a.job.yaml" || list[0].Changed.IsZero() {
		t.Errorf("list is %v (%v)", list, err)
	}
}

func TestConflict(t *testing.T) {
	s, folder := open(t)
	_, token, err := s.Load("a.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	// Somebody's editor saves.
	if err := os.WriteFile(filepath.Join(folder, "a.job.yaml"), []byte("theirs"), 0o644); err != nil {
		t.Fatal(err)
	}
	_, err = s.Save("a.job.yaml", []byte("ours"), token)
	var conflict *Conflict
	if !errors.As(err, &conflict) || !errors.Is(err, web.ErrConflict) {
		t.Fatalf("got %v, want a conflict", err)
	}
	text, fresh, err := s.Load("a.job.yaml")
	if err != nil || string(text) != "theirs" || fresh != conflict.Token {
		t.Errorf("after the conflict the file is %q with %s, the conflict said %s (%v)", text, fresh, conflict.Token, err)
	}
	if got := earlier(t, s); len(got) != 0 {
		t.Errorf("a refused save kept %q", got)
	}
	// With the fresh token it works, and what they wrote is kept.
	if _, err := s.Save("a.job.yaml", []byte("ours"), fresh); err != nil {
		t.Fatal(err)
	}
	if got := earlier(t, s); len(got) != 1 || got[0] != "theirs" {
		t.Errorf("earlier texts are %q, want [theirs]", got)
	}
	if err := os.Remove(filepath.Join(folder, "a.job.yaml")); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Save("a.job.yaml", []byte("x"), fresh); !errors.Is(err, web.ErrConflict) {
		t.Errorf("saving a deleted file gives %v, want a conflict", err)
	}
}

// TestTwoStores checks that of two savers with the same token one wins and the other is told, never both.
func TestTwoStores(t *testing.T) {
	s, folder := open(t)
	other, err := openStore(folder, ticking())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = other.Close() })
	for round := range 50 {
		_, token, err := s.Load("a.job.yaml")
		if err != nil {
			t.Fatal(err)
		}
		results := make(chan error, 2)
		for n, store := range []*Store{s, other} {
			go func() {
				_, err := store.Save("a.job.yaml", fmt.Appendf(nil, "round %d saver %d", round, n), token)
				results <- err
			}()
		}
		wins := 0
		for range 2 {
			switch err := <-results; {
			case err == nil:
				wins++
			case !errors.Is(err, web.ErrConflict):
				t.Fatal(err)
			}
		}
		if wins != 1 {
			t.Fatalf("round %d: %d savers won, want 1", round, wins)
		}
	}
}

func TestBringBack(t *testing.T) {
	s, _ := open(t)
	save(t, s, "two")
	save(t, s, "three")
	list, err := s.Versions("a.job.yaml")
	if err != nil || len(list) != 2 {
		t.Fatalf("got %v (%v), want two versions", list, err)
	}
	if !list[0].When.After(list[1].When) {
		t.Errorf("versions are out of order: %v", list)
	}
	_, token, err := s.Load("a.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.BringBack("a.job.yaml", list[1].ID, "stale"); !errors.Is(err, web.ErrConflict) {
		t.Errorf("with a stale token: %v, want a conflict", err)
	}
	if _, err := s.BringBack("a.job.yaml", list[1].ID, token); err != nil {
		t.Fatal(err)
	}
	if text, _, err := s.Load("a.job.yaml"); err != nil || string(text) != "one" {
		t.Errorf("brought back %q (%v), want one", text, err)
	}
	if got := earlier(t, s); strings.Join(got, ",") != "three,two" {
		t.Errorf("earlier texts are %q, want three and two", got)
	}
	for _, id := range []string{"", "x", "../../a.job.yaml", "20260301T080000.000000000Z-0123456789abcdef"} {
		if _, err := s.Version("a.job.yaml", id); !errors.Is(err, web.ErrMissing) {
			t.Errorf("version %q: %v, want ErrMissing", id, err)
		}
	}
}

// TestNotStoredTwice checks that a text that comes and goes is kept once.
func TestNotStoredTwice(t *testing.T) {
	s, folder := open(t)
	for range 5 {
		save(t, s, "two")
		save(t, s, "one")
	}
	save(t, s, "one")
	files, err := filepath.Glob(filepath.Join(folder, ".drivewright", "history", "a.job.yaml", "*.yaml"))
	if err != nil || len(files) != 2 {
		t.Errorf("got %d kept files (%v), want 2", len(files), err)
	}
	if got := earlier(t, s); len(got) != 1 || got[0] != "two" {
		t.Errorf("earlier texts are %q, want [two]", got)
	}
}

// TestThinning checks that old versions are thinned, never the first, the newest, or the last one of another day.
func TestThinning(t *testing.T) {
	s, _ := open(t)
	s.keep = 20
	at := time.Date(2026, 3, 1, 8, 0, 0, 0, time.UTC)
	s.now = func() time.Time { at = at.Add(time.Second); return at }
	for day := range 5 {
		for n := range 30 {
			save(t, s, fmt.Sprintf("day %d text %d", day, n))
		}
		at = at.Add(24 * time.Hour)
	}
	got := earlier(t, s)
	if len(got) > 20 || len(got) < 15 {
		t.Errorf("%d versions are left, want nearly 20", len(got))
	}
	if got[0] != "day 4 text 28" || got[len(got)-1] != "one" {
		t.Errorf("newest is %q, oldest %q", got[0], got[len(got)-1])
	}
	for day := range 5 {
		if !strings.Contains(strings.Join(got, "\n"), fmt.Sprintf("day %d", day)) {
			t.Errorf("nothing is left of day %d: %q", day, got)
		}
	}
}

// TestClockSetBack checks that the order of versions holds when the clock doesn't.
func TestClockSetBack(t *testing.T) {
	s, _ := open(t)
	at := time.Date(2026, 3, 1, 8, 0, 0, 0, time.UTC)
	s.now = func() time.Time { at = at.Add(-time.Hour); return at }
	for n := range 5 {
		save(t, s, strconv.Itoa(n))
	}
	if got := strings.Join(earlier(t, s), ","); got != "3,2,1,0,one" {
		t.Errorf("earlier texts are %s", got)
	}
}

func TestCreate(t *testing.T) {
	s, folder := open(t)
	if err := s.Create("a.job.yaml", []byte("x")); !errors.Is(err, web.ErrExists) {
		t.Errorf("creating what is there: %v, want ErrExists", err)
	}
	if err := s.Create("b.job.yaml", []byte("new")); err != nil {
		t.Fatal(err)
	}
	if text, _, err := s.Load("b.job.yaml"); err != nil || string(text) != "new" {
		t.Errorf("got %q (%v)", text, err)
	}
	if text, _, err := s.Load("a.job.yaml"); err != nil || string(text) != "one" {
		t.Errorf("a.job.yaml is now %q (%v)", text, err)
	}
	noTemps(t, folder)
}

// TestHostileNames lists names that lead out of the folder or aren't those of job files.
func TestHostileNames(t *testing.T) {
	s, folder := open(t)
	outside := filepath.Join(filepath.Dir(folder), "outside.job.yaml")
	if err := os.WriteFile(outside, []byte("secret"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"", ".job.yaml", "a", "a.yaml", "../outside.job.yaml", "..\\outside.job.yaml", outside, "sub/a.job.yaml", ".hidden.job.yaml", "a\x00.job.yaml", "a\n.job.yaml", "con.job.yaml", "LPT1.job.yaml", "a:b.job.yaml",
		"\xff.job.yaml", strings.Repeat("a", 300) + ".job.yaml", ".drivewright/history/a.job.yaml/x.job.yaml", "./a.job.yaml"} {
		if _, _, err := s.Load(name); err == nil {
			t.Errorf("Load takes %q", name)
		}
		if _, err := s.Save(name, []byte("x"), tokenOf([]byte("secret"))); err == nil {
			t.Errorf("Save takes %q", name)
		}
		if err := s.Create(name, []byte("x")); err == nil {
			t.Errorf("Create takes %q", name)
		}
		if _, err := s.Versions(name); err == nil {
			t.Errorf("Versions takes %q", name)
		}
	}
	if text, err := os.ReadFile(outside); err != nil || string(text) != "secret" {
		t.Errorf("the file outside is now %q (%v)", text, err)
	}
	if runtime.GOOS == "windows" {
		return // links need privileges there
	}
	for link, target := range map[string]string{"link.job.yaml": outside, "inner.job.yaml": "a.job.yaml"} {
		if err := os.Symlink(target, filepath.Join(folder, link)); err != nil {
			t.Fatal(err)
		}
		if text, _, err := s.Load(link); err == nil {
			t.Errorf("Load follows the link %s and reads %q", link, text)
		}
		if _, err := s.Save(link, []byte("x"), tokenOf([]byte("secret"))); err == nil {
			t.Errorf("Save follows the link %s", link)
		}
	}
	list, err := s.List()
	if err != nil || len(list) != 1 {
		t.Errorf("the list shows links: %v (%v)", list, err)
	}
	// A history that leads elsewhere.
	elsewhere := t.TempDir()
	if err := os.Symlink(elsewhere, filepath.Join(folder, ".drivewright", "history")); err != nil {
		t.Fatal(err)
	}
	_, token, err := s.Load("a.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Save("a.job.yaml", []byte("x"), token); err == nil {
		t.Error("Save keeps versions through a link that leads out of the folder")
	}
	if entries, err := os.ReadDir(elsewhere); err != nil || len(entries) > 0 {
		t.Errorf("%v was written outside (%v)", entries, err)
	}
}

func TestDamagedVersion(t *testing.T) {
	s, folder := open(t)
	save(t, s, "two")
	list, err := s.Versions("a.job.yaml")
	if err != nil || len(list) != 1 {
		t.Fatal(list, err)
	}
	if err := os.WriteFile(filepath.Join(folder, ".drivewright", "history", "a.job.yaml", list[0].ID+".yaml"), []byte("on"), 0o644); err != nil {
		t.Fatal(err)
	}
	if text, err := s.Version("a.job.yaml", list[0].ID); err == nil {
		t.Errorf("a damaged version is handed out as %q", text)
	}
}

func TestWatch(t *testing.T) {
	s, folder := open(t)
	s.poll = 5 * time.Millisecond
	ctx, cancel := context.WithCancel(t.Context())
	changes := s.Watch(ctx, "a.job.yaml")
	expect := func(what string) {
		t.Helper()
		select {
		case <-changes:
		case <-time.After(10 * time.Second):
			t.Fatalf("%s was not noticed", what)
		}
	}
	path := filepath.Join(folder, "a.job.yaml")
	save(t, s, "two")
	expect("our own save")
	if err := os.WriteFile(path, []byte("an editor that writes in place"), 0o644); err != nil {
		t.Fatal(err)
	}
	expect("an editor that writes in place")
	other := filepath.Join(folder, "x")
	if err := os.WriteFile(other, []byte("an editor that writes in place"), 0o644); err != nil {
		t.Fatal(err)
	}
	time.Sleep(50 * time.Millisecond) // notices of the write before are over
	for len(changes) > 0 {
		<-changes
	}
	if err := os.Rename(other, path); err != nil {
		t.Fatal(err)
	}
	expect("an editor that renames, with the same text")
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	expect("a deletion")
	cancel()
	time.Sleep(20 * time.Millisecond)
	if err := os.WriteFile(path, []byte("later"), 0o644); err != nil {
		t.Fatal(err)
	}
	time.Sleep(50 * time.Millisecond)
	if len(changes) > 0 {
		t.Error("a watch that has ended goes on")
	}
}

// numbered returns a text with a number that can be told from any torn or mixed one.
func numbered(n int) []byte {
	body := strings.Repeat(fmt.Sprintf("line of text %d\n", n), 400)
	return fmt.Appendf(nil, "%d %x\n%s", n, sha256.Sum256([]byte(body)), body)
}

// numberOf returns the number of a whole text, an error for anything else.
func numberOf(text []byte) (int, error) {
	first, _, _ := bytes.Cut(text, []byte(" "))
	n, err := strconv.Atoi(string(first))
	if err != nil || !bytes.Equal(text, numbered(n)) {
		return 0, fmt.Errorf("the text is not whole: %d bytes, beginning %.20q", len(text), text)
	}
	return n, nil
}

// TestSaveForever is the child of TestKilledWhileSaving.
func TestSaveForever(t *testing.T) {
	folder := os.Getenv("SAVE_FOREVER")
	if folder == "" {
		t.Skip("runs as a child only")
	}
	s, err := openStore(folder, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	s.keep = 1 << 30
	fmt.Println("saving")
	for {
		text, token, err := s.Load("a.job.yaml")
		if err != nil {
			t.Fatal(err)
		}
		n, err := numberOf(text)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := s.Save("a.job.yaml", numbered(n+1), token); err != nil {
			t.Fatal(err)
		}
	}
}

// TestKilledWhileSaving kills a program that saves in a loop, again and again, at moments of chance.
func TestKilledWhileSaving(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a.job.yaml")
	if err := os.WriteFile(path, numbered(0), 0o644); err != nil {
		t.Fatal(err)
	}
	kills := 60
	if testing.Short() {
		kills = 10
	}
	random := rand.New(rand.NewPCG(8, 50))
	last, temps := 0, 0
	for range kills {
		child := exec.Command(os.Args[0], "-test.run=^TestSaveForever$", "-test.v")
		child.Env = append(os.Environ(), "SAVE_FOREVER="+folder)
		out, err := child.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		var complaint bytes.Buffer
		child.Stderr = &complaint
		if err := child.Start(); err != nil {
			t.Fatal(err)
		}
		begun := make([]byte, 64)
		for !bytes.Contains(begun, []byte("saving")) {
			if _, err := out.Read(begun); err != nil {
				t.Fatalf("the child didn't begin: %v %s", err, complaint.String())
			}
		}
		time.Sleep(time.Duration(random.IntN(30_000)) * time.Microsecond)
		if err := child.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		if err := child.Wait(); err == nil || child.ProcessState.Exited() && child.ProcessState.ExitCode() == 1 {
			t.Fatalf("the child ended by itself: %v %s", err, complaint.String())
		}
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		n, err := numberOf(text)
		if err != nil {
			t.Fatal(err)
		}
		if n < last {
			t.Fatalf("the file went back from %d to %d", last, n)
		}
		last = n
		if found, err := filepath.Glob(filepath.Join(folder, ".drivewright-*")); err == nil {
			temps += len(found)
		}
	}
	s, err := openStore(folder, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	noTemps(t, folder)
	list, err := s.Versions("a.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	kept := map[int]bool{}
	for _, v := range list {
		text, err := s.Version("a.job.yaml", v.ID)
		if err != nil {
			t.Fatal(err)
		}
		n, err := numberOf(text)
		if err != nil {
			t.Fatalf("version %s: %v", v.ID, err)
		}
		kept[n] = true
	}
	for n := range last {
		if !kept[n] {
			t.Errorf("text %d of %d is lost", n, last)
		}
	}
	if last < kills {
		t.Errorf("%d kills in %d saves: the child hardly ever saved", kills, last)
	}
	t.Logf("%d kills, %d saves, %d temporary files were left behind and cleared", kills, last, temps)
}

// noTemps checks that no temporary file is left anywhere.
func noTemps(t *testing.T, folder string) {
	t.Helper()
	err := filepath.WalkDir(folder, func(path string, _ fs.DirEntry, err error) error {
		if strings.HasSuffix(path, tempEnd) {
			t.Errorf("%s is left behind", path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

func BenchmarkSave(b *testing.B) {
	s, _ := open(b)
	n := 0
	for b.Loop() {
		n++
		save(b, s, strconv.Itoa(n))
	}
}
