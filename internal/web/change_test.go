package web

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"

	"drivewright/internal/input/job"
)

// client speaks to the server as the page does.
type client struct {
	testing.TB
	server *httptest.Server
	token  string
	known  map[string]string
}

func newClient(t testing.TB, s *httptest.Server) *client {
	c := &client{TB: t, server: s, known: map[string]string{}}
	status, p := c.get()
	if status != 200 {
		t.Fatalf("the parts: %d", status)
	}
	c.see(p)
	return c
}

func (c *client) get() (int, painting) {
	c.Helper()
	answer, err := http.Get(c.server.URL + "/job/lathe.job.yaml/parts")
	if err != nil {
		c.Fatal(err)
	}
	defer answer.Body.Close()
	var p painting
	if err := json.NewDecoder(answer.Body).Decode(&p); err != nil {
		c.Fatal(err)
	}
	return answer.StatusCode, p
}

func (c *client) see(p painting) {
	c.token = p.Token
	for _, part := range p.Parts {
		c.known[part.ID] = part.Mark
	}
}

// ask sends a change with the token and the marks that the client has; what comes back is seen.
func (c *client) ask(method, verb string, q request) (int, painting, refusal) {
	c.Helper()
	if q.Token == "" {
		q.Token = c.token
	}
	q.Known = c.known
	body, err := json.Marshal(q)
	if err != nil {
		c.Fatal(err)
	}
	r, err := http.NewRequestWithContext(c.Context(), method, c.server.URL+"/job/lathe.job.yaml/"+verb, bytes.NewReader(body))
	if err != nil {
		c.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		c.Fatal(err)
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		c.Fatal(err)
	}
	var p painting
	var no refusal
	if answer.StatusCode == 200 {
		err = json.Unmarshal(text, &p)
		c.see(p)
	} else {
		err = json.Unmarshal(text, &no)
	}
	if err != nil {
		c.Fatalf("%s: %v", text, err)
	}
	return answer.StatusCode, p, no
}

func (c *client) set(path, text string) (int, painting, refusal) {
	c.Helper()
	return c.ask("PUT", "value", request{Path: path, Text: text})
}

// changed lists the parts that came with their HTML.
func changed(p painting) []string {
	var ids []string
	for _, part := range p.Parts {
		if part.HTML != "" {
			ids = append(ids, part.ID)
		}
	}
	return ids
}

func TestAChangedValueKeepsTheRestOfTheFileAndRepaintsOnlyWhatDiffers(t *testing.T) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	c := newClient(t, serve(t, store))
	status, p, no := c.set("supply.breaker", "40 A")
	if status != 200 {
		t.Fatalf("got %d %v", status, no)
	}
	if got, want := store.text("lathe.job.yaml"), strings.Replace(lathe, "30 A", "40 A", 1); got != want {
		t.Errorf("the file: got\n%s\nwant\n%s", got, want)
	}
	got := changed(p)
	for _, id := range got {
		if id == "s-motor-nameplate" || id == "s-branch-circuit" || id == "s-machine" {
			t.Errorf("part %s came again though nothing in it changed; all: %v", id, got)
		}
	}
	if len(got) == 0 || p.Undo != "supply.breaker: 30 A → 40 A" || p.Redo != "" {
		t.Errorf("parts %v, undo %q, redo %q", got, p.Undo, p.Redo)
	}
	if !strings.HasPrefix(p.Said, "worked out again: 1 check") {
		t.Errorf("said %q", p.Said)
	}
}

func TestABadValueIsRefusedWithTheNearestRightWord(t *testing.T) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	c := newClient(t, serve(t, store))
	for _, row := range []struct{ path, text, want string }{
		{"machine.kind", "lathee", "lathe"},
		{"supply.breaker", "40 V", "A"},
		{"supply.breaker", "4000 A", "400 A"},
		{"motor.power", "five horses", ""},
		{"motor.colour", "green", "motor.colour"},
	} {
		status, _, no := c.set(row.path, row.text)
		if status != 422 || no.Message == "" || !strings.Contains(no.Message, row.want) {
			t.Errorf("%s = %q: got %d %q, want 422 with %q in it", row.path, row.text, status, no.Message, row.want)
		}
	}
	if store.text("lathe.job.yaml") != lathe {
		t.Error("a refused value changed the file")
	}
}

func TestAnEmptyValueTakesTheKeyOut(t *testing.T) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	c := newClient(t, serve(t, store))
	if status, _, no := c.set("machine.duty", " "); status != 200 {
		t.Fatal(status, no)
	}
	if strings.Contains(store.text("lathe.job.yaml"), "duty") {
		t.Error("the key is still there")
	}
	if status, p, _ := c.ask("POST", "undo", request{}); status != 200 || store.text("lathe.job.yaml") != lathe || p.Redo == "" {
		t.Errorf("undo: %d, redo %q, file\n%s", status, p.Redo, store.text("lathe.job.yaml"))
	}
}

func TestUndoAndRedoWalkTheWholeWay(t *testing.T) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	c := newClient(t, serve(t, store))
	texts := []string{lathe}
	for n := range 5 {
		if status, _, no := c.set("supply.run", fmt.Sprintf("%d ft", 50+n)); status != 200 {
			t.Fatal(status, no)
		}
		texts = append(texts, store.text("lathe.job.yaml"))
	}
	for n := len(texts) - 2; n >= 0; n-- {
		if status, _, no := c.ask("POST", "undo", request{}); status != 200 || store.text("lathe.job.yaml") != texts[n] {
			t.Fatalf("undo to %d: %d %v", n, status, no)
		}
	}
	if status, _, _ := c.ask("POST", "undo", request{}); status != 422 {
		t.Errorf("undo before the beginning: got %d, want 422", status)
	}
	for n := 1; n < len(texts); n++ {
		if status, _, no := c.ask("POST", "redo", request{}); status != 200 || store.text("lathe.job.yaml") != texts[n] {
			t.Fatalf("redo to %d: %d %v", n, status, no)
		}
	}
	if status, _, _ := c.ask("POST", "redo", request{}); status != 422 {
		t.Errorf("redo after the end: got %d, want 422", status)
	}
	// A new change after going back makes a new end.
	c.ask("POST", "undo", request{})
	if _, p, _ := c.set("supply.run", "99 ft"); p.Redo != "" {
		t.Errorf("redo is still offered: %q", p.Redo)
	}
}

func TestWhatAnEditorWroteCanBeUndone(t *testing.T) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	c := newClient(t, serve(t, store))
	store.editOutside("lathe.job.yaml", func(s string) string { return strings.Replace(s, "5 hp", "3 hp", 1) })
	_, p := c.get()
	if p.Undo != changedElsewhere {
		t.Fatalf("undo: %q", p.Undo)
	}
	c.see(p)
	if status, _, no := c.ask("POST", "undo", request{}); status != 200 || store.text("lathe.job.yaml") != lathe {
		t.Errorf("%d %v", status, no)
	}
}

func TestAStaleTokenOnTheSameValueIsAConflictAndLosesNothing(t *testing.T) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	c := newClient(t, serve(t, store))
	store.editOutside("lathe.job.yaml", func(s string) string { return strings.Replace(s, "30 A", "35 A", 1) })
	status, _, no := c.set("supply.breaker", "50 A")
	if status != 409 || !no.Late || no.Theirs != "35 A" || no.Yours != "50 A" {
		t.Fatalf("got %d %+v", status, no)
	}
	if len(no.Lines) != 1 || !strings.Contains(no.Lines[0].Was, "30 A") || !strings.Contains(no.Lines[0].Is, "35 A") {
		t.Errorf("what was changed: %+v", no.Lines)
	}
	if !strings.Contains(store.text("lathe.job.yaml"), "35 A") {
		t.Error("the other's text is gone")
	}
	if status, _, no := c.ask("PUT", "value", request{Path: "supply.breaker", Text: "50 A", Token: no.Token, Over: true}); status != 200 {
		t.Errorf("writing mine over it: %d %v", status, no)
	}
	if !strings.Contains(store.text("lathe.job.yaml"), "50 A") {
		t.Error("mine was not written")
	}
}

func TestAStaleTokenOnAnotherValueKeepsBoth(t *testing.T) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	c := newClient(t, serve(t, store))
	store.editOutside("lathe.job.yaml", func(s string) string { return strings.Replace(s, "45 ft", "60 ft", 1) })
	status, p, no := c.set("supply.breaker", "50 A")
	if status != 200 || !strings.Contains(p.Said, "changed elsewhere") {
		t.Fatalf("got %d %v, said %q", status, no, p.Said)
	}
	if text := store.text("lathe.job.yaml"); !strings.Contains(text, "60 ft") || !strings.Contains(text, "50 A") {
		t.Errorf("one of the two is lost:\n%s", text)
	}
}

func TestUndoAndBringBackAskForAPageThatHasSeenTheFile(t *testing.T) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	c := newClient(t, serve(t, store))
	c.set("supply.breaker", "40 A")
	store.editOutside("lathe.job.yaml", func(s string) string { return strings.Replace(s, "45 ft", "60 ft", 1) })
	now := store.text("lathe.job.yaml")
	for verb, q := range map[string]request{"undo": {}, "redo": {}, "bring-back": {Version: "0"}} {
		if status, _, no := c.ask("POST", verb, q); status != 409 || !no.Late || store.text("lathe.job.yaml") != now {
			t.Errorf("%s: got %d %+v", verb, status, no)
		}
	}
	_, p := c.get()
	c.see(p)
	if status, _, no := c.ask("POST", "undo", request{}); status != 200 || !strings.Contains(store.text("lathe.job.yaml"), "45 ft") {
		t.Errorf("after looking: %d %v", status, no)
	}
}

// The second load of the page is another load by now: writing to its number would hit the wrong one.
func TestAListItemThatMovedIsAConflict(t *testing.T) {
	two := lathe + "  - name: pump\n    power: 1/8 hp\n  - name: feed\n    power: 1/8 hp\n"
	store := newMemoryStore(map[string]string{"lathe.job.yaml": two})
	c := newClient(t, serve(t, store))
	store.editOutside("lathe.job.yaml", func(s string) string { return strings.Replace(s, "  - name: lamp\n    volt-amperes: 60 VA\n", "", 1) })
	now := store.text("lathe.job.yaml")
	if status, _, _ := c.set("loads[1].power", "1/4 hp"); status != 409 || store.text("lathe.job.yaml") != now {
		t.Errorf("got %d\n%s", status, store.text("lathe.job.yaml"))
	}
}

func TestATokenThatNobodyKnowsIsAConflict(t *testing.T) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	c := newClient(t, serve(t, store))
	if status, _, no := c.ask("PUT", "value", request{Path: "supply.breaker", Text: "50 A", Token: "from-before-the-restart"}); status != 409 || no.Yours != "50 A" || no.Theirs != "30 A" {
		t.Errorf("got %d %+v", status, no)
	}
	if store.text("lathe.job.yaml") != lathe {
		t.Error("the file was changed")
	}
}

func TestLoadsAreAddedAndRemoved(t *testing.T) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	c := newClient(t, serve(t, store))
	if status, _, no := c.ask("POST", "add", request{Item: "loads"}); status != 200 || !strings.Contains(store.text("lathe.job.yaml"), "load 2") {
		t.Fatalf("%d %v\n%s", status, no, store.text("lathe.job.yaml"))
	}
	if status, _, no := c.set("loads[1].kind", "coil"); status != 200 {
		t.Fatal(status, no)
	}
	if status, _, no := c.ask("POST", "remove", request{Item: "loads[0]"}); status != 200 || strings.Contains(store.text("lathe.job.yaml"), "lamp") {
		t.Fatalf("%d %v\n%s", status, no, store.text("lathe.job.yaml"))
	}
	if status, _, _ := c.ask("POST", "add", request{Item: "accepted"}); status != 422 {
		t.Errorf("adding to another list: got %d, want 422", status)
	}
	if status, _, _ := c.ask("POST", "remove", request{Item: "loads[7]"}); status != 422 && status != 200 {
		t.Errorf("removing what isn't there: got %d", status)
	}
}

func TestAcceptingAFindingNeedsAReasonAndCanBeTakenBack(t *testing.T) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	c := newClient(t, serve(t, store))
	if status, _, no := c.ask("POST", "accept", request{Rule: "shop-heat-unknown", Reason: " "}); status != 422 || no.Message == "" {
		t.Errorf("without a reason: %d %v", status, no)
	}
	status, p, no := c.ask("POST", "accept", request{Rule: "shop-heat-unknown", Reason: "a cellar: never above 20 °C", By: "jm, today"})
	if status != 200 || !strings.Contains(store.text("lathe.job.yaml"), "a cellar") {
		t.Fatalf("%d %v\n%s", status, no, store.text("lathe.job.yaml"))
	}
	if !strings.Contains(p.Said, "1 must") || strings.Contains(p.Said, "check") {
		t.Errorf("said %q", p.Said)
	}
	if status, _, no := c.ask("POST", "unaccept", request{Rule: "shop-heat-unknown"}); status != 200 || strings.Contains(store.text("lathe.job.yaml"), "a cellar") {
		t.Errorf("%d %v\n%s", status, no, store.text("lathe.job.yaml"))
	}
	if status, _, _ := c.ask("POST", "unaccept", request{Rule: "shop-heat-unknown"}); status != 422 {
		t.Errorf("taking back what isn't accepted: got %d, want 422", status)
	}
}

func TestAnEarlierVersionIsBroughtBackAndCanBeUndone(t *testing.T) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	s := serve(t, store)
	c := newClient(t, s)
	c.set("supply.breaker", "40 A")
	c.set("supply.breaker", "50 A")
	answer, err := http.Get(s.URL + "/job/lathe.job.yaml/versions")
	if err != nil {
		t.Fatal(err)
	}
	page, err := io.ReadAll(answer.Body)
	answer.Body.Close()
	if err != nil || !strings.Contains(string(page), `data-version="0"`) || !strings.Contains(string(page), "breaker: 50 A") {
		t.Fatalf("%v\n%s", err, page)
	}
	if status, _, no := c.ask("POST", "bring-back", request{Version: "0"}); status != 200 || store.text("lathe.job.yaml") != lathe {
		t.Errorf("%d %v", status, no)
	}
	if status, _, no := c.ask("POST", "undo", request{}); status != 200 || !strings.Contains(store.text("lathe.job.yaml"), "50 A") {
		t.Errorf("%d %v", status, no)
	}
}

func TestTheSheetIsTakenAlong(t *testing.T) {
	s := serve(t, newMemoryStore(map[string]string{"lathe.job.yaml": lathe}))
	for address, want := range map[string]string{"as/yaml": lathe, "as/json": `{"proved":true,"title":"Window lathe","units":"inch"}` + "\n", "as/json?units=metric": `{"proved":true,"title":"Window lathe","units":"metric"}` + "\n"} {
		answer, err := http.Get(s.URL + "/job/lathe.job.yaml/" + address)
		if err != nil {
			t.Fatal(err)
		}
		got, err := io.ReadAll(answer.Body)
		answer.Body.Close()
		if err != nil || string(got) != want {
			t.Errorf("%s: got %q, %v", address, got, err)
		}
		if d := answer.Header.Get("Content-Disposition"); !strings.HasPrefix(d, "attachment; filename*=UTF-8''lathe.") {
			t.Errorf("%s: %q", address, d)
		}
	}
}

func TestANewJobIsMadeAndNeverOverAnother(t *testing.T) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	s := serve(t, store)
	post := func(title string) (int, string) {
		answer, err := http.Post(s.URL+"/jobs", "application/json", strings.NewReader(fmt.Sprintf(`{"title":%q}`, title)))
		if err != nil {
			t.Fatal(err)
		}
		defer answer.Body.Close()
		text, err := io.ReadAll(answer.Body)
		if err != nil {
			t.Fatal(err)
		}
		return answer.StatusCode, string(text)
	}
	if status, text := post("Old planer"); status != 201 || !strings.Contains(text, "/job/old-planer.job.yaml") {
		t.Errorf("%d %s", status, text)
	}
	if status, text := post("lathe"); status != 422 || store.text("lathe.job.yaml") != lathe {
		t.Errorf("%d %s", status, text)
	}
}

// Several pages that change different values at once lose none of them, whatever the order in which they arrive.
func TestManyPagesAtOnceLoseNothing(t *testing.T) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	s := serve(t, store)
	values := map[string]string{"supply.breaker": "40 A", "supply.run": "60 ft", "motor.power": "3 hp", "machine.duty": "55 %", "machine.kind": "mill", "shop.warmest": "95 °F", "motor.speed": "1740 rpm", "supply.voltage": "236 V"}
	clients := map[string]*client{}
	for path := range values {
		clients[path] = newClient(t, s)
	}
	var all sync.WaitGroup
	for path, text := range values {
		all.Go(func() {
			if status, _, no := clients[path].set(path, text); status != 200 {
				t.Errorf("%s: %d %v", path, status, no)
			}
		})
	}
	all.Wait()
	file := job.Read("lathe.job.yaml", []byte(store.text("lathe.job.yaml")))
	for path, want := range values {
		if got := file.Typed(path); got != want {
			t.Errorf("%s: got %q, want %q", path, got, want)
		}
	}
}

func TestTheStreamTellsOfEveryChange(t *testing.T) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	s := serve(t, store)
	answer, err := http.Get(s.URL + "/job/lathe.job.yaml/events")
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	lines := bufio.NewScanner(answer.Body)
	next := func(want string) {
		t.Helper()
		named := false
		for lines.Scan() {
			line := lines.Text()
			switch {
			case line == "":
			case strings.HasPrefix(line, "event: "): // a beat, or a word of the proof: not of the file
				named = true
			case named:
				named = false
			case line != want:
				t.Fatalf("got %q, want %q", line, want)
			default:
				return
			}
		}
		t.Fatalf("the stream ended before %q: %v", want, lines.Err())
	}
	next("data: " + tokenOf([]byte(lathe)))
	c := newClient(t, s)
	c.set("supply.breaker", "40 A")
	next("data: " + c.token)
	changed := store.text("lathe.job.yaml") + "# by hand\n"
	store.editOutside("lathe.job.yaml", func(string) string { return changed })
	next("data: " + tokenOf([]byte(changed)))
}

// Whatever is sent, the file changes only when the answer says so, and then it holds what was sent.
func FuzzValue(f *testing.F) {
	seeds := [][2]string{{"supply.breaker", "40 A"}, {"supply.breaker", ""}, {"machine.name", "a: b # c"}, {"machine.name", "\"quoted\""}, {"loads[0].name", "lamp"}, {"loads[9].name", "x"},
		{"loads", "x"}, {"", "x"}, {"motor.voltage", "230/460 V"}, {"notes", "two\nlines"}, {"units", "metric"}, {"machine.name", "\x00"}, {"supply.run", "10-1/2 in"}, {"motor", "{}"}}
	for _, s := range seeds {
		f.Add(s[0], s[1])
	}
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	server := serve(f, store)
	f.Fuzz(func(t *testing.T, path, text string) {
		store.editOutside("lathe.job.yaml", func(string) string { return lathe })
		c := newClient(t, server)
		status, _, no := c.set(path, text)
		after := store.text("lathe.job.yaml")
		switch status {
		case 200: // what isn't UTF-8 is sent as U+FFFD, byte by byte
			got := strings.Join(strings.Fields(job.Read("lathe.job.yaml", []byte(after)).Typed(path)), " ")
			if want := strings.Join(strings.Fields(string([]rune(text))), " "); got != want {
				t.Errorf("%q at %q: the file says %q", text, path, got)
			}
		case 422:
			if no.Message == "" || after != lathe {
				t.Errorf("%q at %q: refused with %q, the file\n%s", text, path, no.Message, after)
			}
		default:
			t.Errorf("%q at %q: got %d %q", text, path, status, no.Message)
		}
	})
}

func TestTheTimelineForgetsTheOldest(t *testing.T) {
	var l timeline
	for n := range mostMoments + 50 {
		l.see(fmt.Sprint(n), []byte{byte(n)}, "a change")
	}
	if len(l.moments) != mostMoments || l.at != mostMoments-1 || l.moments[l.at].token != fmt.Sprint(mostMoments+49) {
		t.Errorf("%d moments, at %d", len(l.moments), l.at)
	}
}

func TestDifference(t *testing.T) {
	for _, row := range []struct {
		name, before, after string
		want                []line
	}{
		{"nothing", "a\nb\n", "a\nb\n", nil},
		{"a changed line", "a\nb\nc", "a\nx\nc", []line{{2, "b", "x"}}},
		{"an added line", "a\nc", "a\nb\nc", []line{{2, "", "b"}}},
		{"a removed line", "a\nb\nc", "a\nc", []line{{2, "b", ""}}},
		{"two places", "a\nb\nc\nd\ne", "a\nB\nc\nd\nE", []line{{2, "b", "B"}, {5, "e", "E"}}},
		{"everything", "a", "b\nc", []line{{1, "a", "b"}, {2, "", "c"}}},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := difference([]byte(row.before), []byte(row.after))
			if fmt.Sprint(got) != fmt.Sprint(row.want) {
				t.Errorf("got %v, want %v", got, row.want)
			}
		})
	}
}

func BenchmarkChangeOnTheServer(b *testing.B) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	c := newClient(b, serve(b, store))
	n := 0
	for b.Loop() {
		n++
		if status, _, no := c.set("supply.run", fmt.Sprintf("%d ft", 40+n%20)); status != 200 {
			b.Fatal(status, no)
		}
	}
}
