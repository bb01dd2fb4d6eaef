package web

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"drivewright/internal/trade/prove"
)

const (
	phoneSecret = "abcdefghijklmnopqrstuvwxyz"
	phoneHost   = "192.168.1.7:8378"
)

// phoneSide returns the handler for phones over a store with the lathe, its proof worked out.
func phoneSide(t *testing.T) (*memoryStore, http.Handler) {
	t.Helper()
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	o := testOptions(store)
	o.Phone = &Phone{Address: phoneHost, Secret: phoneSecret}
	computer, phone, err := NewWithPhone(o)
	if err != nil {
		t.Fatal(err)
	}
	whole, err := http.Get(started(t, computer).URL + "/job/lathe.job.yaml/as/json") // the proof is there
	if err != nil {
		t.Fatal(err)
	}
	whole.Body.Close()
	return store, phone
}

// asked sends one request as it comes in by the listener for phones.
func asked(t *testing.T, h http.Handler, method, host, path, body string, headers map[string]string) *httptest.ResponseRecorder {
	t.Helper()
	local, err := net.ResolveTCPAddr("tcp", phoneHost)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.WithValue(t.Context(), http.LocalAddrContextKey, net.Addr(local)), time.Second)
	defer cancel()
	r := httptest.NewRequestWithContext(ctx, method, "http://"+phoneHost+path, strings.NewReader(body))
	r.Host = host
	for k, v := range headers {
		r.Header.Set(k, v)
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

// Each row is what somebody on the shop's network, or a page elsewhere in the phone's browser, could send to the listener for
// phones. Sources: as for the live sheet; RFC 1918 addresses; the address as a capability (its secret is what lets one in).
func TestRequestsByTheListenerForPhones(t *testing.T) {
	const own, readings, in = "http://" + phoneHost, "/job/lathe.job.yaml/readings", "/" + phoneSecret
	const taken = `{"taken":[{"key":"1","reading":"T1","value":"passed","at":"2026-11-25 11:30:00"}]}`
	value := `{"path":"supply.breaker","text":"40 A","token":"` + tokenOf([]byte(lathe)) + `"}`
	json := map[string]string{"Content-Type": "application/json", "Origin": own, "Sec-Fetch-Site": "same-origin"}
	from := func(origin, site, kind string) map[string]string {
		m := map[string]string{"Content-Type": kind, "Origin": origin}
		if site != "" {
			m["Sec-Fetch-Site"] = site
		}
		return m
	}
	const kind = "application/json"
	for _, row := range []struct {
		name, method, host, path, body string
		headers                        map[string]string
		want                           int
	}{
		{"the phone opens the list", "GET", phoneHost, in + "/", "", nil, 200},
		{"the phone opens the readings", "GET", phoneHost, in + readings, "", nil, 200},
		{"the phone asks what was taken", "GET", phoneHost, in + readings + "/now", "", nil, 200},
		{"the phone writes a reading down", "POST", phoneHost, in + readings, taken, json, 200},
		{"the page's script", "GET", phoneHost, in + "/assets/readings.js", "", nil, 200},
		{"the page's look", "GET", phoneHost, in + "/sheet.css", "", nil, 200},

		{"no secret: the list", "GET", phoneHost, "/", "", nil, 403},
		{"no secret: the readings", "GET", phoneHost, readings, "", nil, 403},
		{"no secret: an asset", "GET", phoneHost, "/assets/readings.js", "", nil, 403},
		{"no secret: writing", "POST", phoneHost, readings, taken, json, 403},
		{"an empty secret", "GET", phoneHost, "//job/lathe.job.yaml/readings", "", nil, 403},
		{"a wrong secret of the same length", "GET", phoneHost, "/" + strings.Repeat("a", len(phoneSecret)) + readings, "", nil, 403},
		{"the beginning of the secret", "GET", phoneHost, in[:20] + readings, "", nil, 403},
		{"the secret and more", "GET", phoneHost, in + "x" + readings, "", nil, 403},
		{"the secret in capitals", "GET", phoneHost, strings.ToUpper(in) + readings, "", nil, 403},
		{"the secret as a query", "GET", phoneHost, readings + "?secret=" + phoneSecret, "", nil, 403},
		{"a wrong secret writes", "POST", phoneHost, "/wrong" + readings, taken, json, 403},
		{"the secret spelt otherwise, with a slash that is none", "GET", phoneHost, "/%61" + phoneSecret[1:] + "%2fjob", "", nil, 404},

		{"a foreign name that was pointed at this computer", "GET", "evil.example:8378", in + readings, "", nil, 421},
		{"a foreign name that was pointed at this computer writes", "POST", "evil.example:8378", in + readings, taken, from("http://evil.example:8378", "same-origin", kind), 421},
		{"the host with a name before it", "GET", "x@" + phoneHost, in + readings, "", nil, 421},
		{"another address of the network", "GET", "192.168.1.8:8378", in + readings, "", nil, 421},
		{"another port", "GET", "192.168.1.7:8377", in + readings, "", nil, 421},
		{"no port", "GET", "192.168.1.7", in + readings, "", nil, 421},
		{"the name localhost", "GET", "localhost:8378", in + readings, "", nil, 421},
		{"an empty host", "GET", "", in + readings, "", nil, 421},

		{"a page elsewhere writes a reading down", "POST", phoneHost, in + readings, taken, from("http://evil.example", "cross-site", kind), 403},
		{"a page elsewhere hides where it is from", "POST", phoneHost, in + readings, taken, from("null", "cross-site", kind), 403},
		{"an old browser writes for a foreign page", "POST", phoneHost, in + readings, taken, from("http://evil.example", "", kind), 403},
		{"a page of the live sheet's port writes", "POST", phoneHost, in + readings, taken, from("http://192.168.1.7:8377", "same-site", kind), 403},
		{"a page elsewhere looks at what was taken", "GET", phoneHost, in + readings + "/now", "", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "cors"}, 403},
		{"a reading as a form", "POST", phoneHost, in + readings, "taken=open", from(own, "same-origin", "application/x-www-form-urlencoded"), 415},
		{"a reading dressed as plain text", "POST", phoneHost, in + readings, taken, from(own, "same-origin", "text/plain"), 415},
		{"more than any round", "POST", phoneHost, in + readings, `{"taken":[{"value":"` + strings.Repeat("x", mostOfAPhone) + `"}]}`, json, 413},
		{"no JSON", "POST", phoneHost, in + readings, `{"taken":`, json, 400},

		{"the sheet", "GET", phoneHost, in + "/job/lathe.job.yaml", "", nil, 404},
		{"the sheet's parts", "GET", phoneHost, in + "/job/lathe.job.yaml/parts", "", nil, 404},
		{"the job file", "GET", phoneHost, in + "/job/lathe.job.yaml/as/yaml", "", nil, 404},
		{"the sheet as data", "GET", phoneHost, in + "/job/lathe.job.yaml/as/json", "", nil, 404},
		{"the earlier versions", "GET", phoneHost, in + "/job/lathe.job.yaml/versions", "", nil, 404},
		{"the box", "GET", phoneHost, in + "/job/lathe.job.yaml/box", "", nil, 404},
		{"the photo's page", "GET", phoneHost, in + "/job/lathe.job.yaml/photo", "", nil, 404},
		{"changing a value", "PUT", phoneHost, in + "/job/lathe.job.yaml/value", value, json, 404},
		{"adding", "POST", phoneHost, in + "/job/lathe.job.yaml/add", value, json, 404},
		{"removing", "POST", phoneHost, in + "/job/lathe.job.yaml/remove", value, json, 404},
		{"accepting a finding", "POST", phoneHost, in + "/job/lathe.job.yaml/accept", value, json, 404},
		{"undoing", "POST", phoneHost, in + "/job/lathe.job.yaml/undo", value, json, 404},
		{"bringing a version back", "POST", phoneHost, in + "/job/lathe.job.yaml/bring-back", value, json, 404},
		{"a new job", "POST", phoneHost, in + "/jobs", `{"title":"x"}`, json, 404},
		{"changing the readings", "PUT", phoneHost, in + readings, taken, json, 405},
		{"deleting the readings", "DELETE", phoneHost, in + readings, "", json, 405},
		{"the script of the sheet", "GET", phoneHost, in + "/assets/live.js", "", nil, 404},
		{"the folder of the assets", "GET", phoneHost, in + "/assets/", "", nil, 404},
		{"the folder of the fonts", "GET", phoneHost, in + "/fonts/", "", nil, 404},

		{"a job that climbs out", "GET", phoneHost, in + "/job/..%2f..%2fetc%2fpasswd.yaml/readings", "", nil, 404},
		{"a job that climbs out with backslashes", "GET", phoneHost, in + "/job/..%5cx.yaml/readings", "", nil, 404},
		{"a reading of a job that climbs out", "POST", phoneHost, in + "/job/..%2fx.yaml/readings", taken, json, 404},
		{"a hidden file", "GET", phoneHost, in + "/job/.secret.yaml/readings", "", nil, 404},
		{"a job that isn't there", "GET", phoneHost, in + "/job/nobody.job.yaml/readings", "", nil, 404},
		{"an asset that climbs out", "GET", phoneHost, in + "/assets/..%2fweb.go", "", nil, 404},
		{"a font that climbs out", "GET", phoneHost, in + "/fonts/..%2ftypeface.go", "", nil, 404},
	} {
		t.Run(row.name, func(t *testing.T) {
			store, h := phoneSide(t)
			w := asked(t, h, row.method, row.host, row.path, row.body, row.headers)
			if w.Code != row.want {
				t.Errorf("got %d, want %d: %.300s", w.Code, row.want, w.Body)
			}
			if store.text("lathe.job.yaml") != lathe {
				t.Error("the job file was changed")
			}
			wanted := 0
			if row.want == 200 && row.method == "POST" {
				wanted = 1
			}
			if got := len(store.recorded("lathe.job.yaml")); got != wanted {
				t.Errorf("%d readings are written down, want %d", got, wanted)
			}
			if row.want != 200 && (strings.Contains(w.Body.String(), phoneSecret) || strings.Contains(w.Body.String(), "lathe")) {
				t.Errorf("the refusal tells what it shouldn't: %s", w.Body)
			}
			for header, want := range map[string]string{"Referrer-Policy": "no-referrer", "X-Content-Type-Options": "nosniff", "X-Frame-Options": "DENY", "Set-Cookie": "", "Access-Control-Allow-Origin": ""} {
				if got := w.Header().Get(header); got != want {
					t.Errorf("%s: got %q, want %q", header, got, want)
				}
			}
			if policy := w.Header().Get("Content-Security-Policy"); !strings.Contains(policy, "default-src 'none'") {
				t.Errorf("content policy: %q", policy)
			}
		})
	}
}

// A path with steps back in it is answered with a way that leads nowhere, and never with the secret.
func TestStepsBackLeadOutOfTheSecret(t *testing.T) {
	_, h := phoneSide(t)
	w := asked(t, h, "GET", phoneHost, "/"+phoneSecret+"/job/../job/lathe.job.yaml", "", nil)
	if to := w.Header().Get("Location"); strings.Contains(to, phoneSecret) || w.Code == 200 {
		t.Errorf("got %d to %q", w.Code, to)
	}
}

// The listener for phones takes so many changes at once and no more; later it does again.
func TestTooManyChangesByPhone(t *testing.T) {
	_, h := phoneSide(t)
	headers := map[string]string{"Content-Type": "application/json"}
	// All at once: one after the other, a slow machine lets the allowance fill again in between.
	var refused atomic.Int32
	var all sync.WaitGroup
	for range 3 * mostAtOnce {
		all.Go(func() {
			if w := asked(t, h, "POST", phoneHost, "/"+phoneSecret+"/job/lathe.job.yaml/readings", `{"taken":[]}`, headers); w.Code == http.StatusTooManyRequests {
				refused.Add(1)
			}
		})
	}
	all.Wait()
	if refused.Load() == 0 {
		t.Error("none was refused")
	}
	at := time.Date(2026, 1, 1, 12, 0, 0, 0, time.UTC)
	a := allowance{left: 2, most: 2, every: time.Second, since: at}
	got := []bool{a.take(at), a.take(at), a.take(at), a.take(at.Add(time.Second)), a.take(at.Add(time.Second)), a.take(at.Add(time.Hour)), a.take(at.Add(time.Hour)), a.take(at.Add(time.Hour))}
	if want := []bool{true, true, false, true, false, true, true, false}; fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// A secret that could be guessed opens nothing.
func TestAShortSecretIsRefused(t *testing.T) {
	for _, secret := range []string{"", "abc", phoneSecret[1:], phoneSecret + "/", strings.ToUpper(phoneSecret)} {
		o := testOptions(newMemoryStore(nil))
		o.Phone = &Phone{Address: phoneHost, Secret: secret}
		if _, _, err := NewWithPhone(o); err == nil {
			t.Errorf("the secret %q was taken", secret)
		}
	}
}

// ownAddress is an address of this computer that isn't loopback, for which browsers have no exceptions; loopback if there is none.
func ownAddress(t *testing.T) string {
	t.Helper()
	addresses, err := net.InterfaceAddrs()
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range addresses {
		if n, ok := a.(*net.IPNet); ok && n.IP.IsGlobalUnicast() {
			return n.IP.String()
		}
	}
	return "127.0.0.1"
}

// The round on a phone that comes by the network: the page over plain HTTP on the computer's own address, not on loopback, where
// a browser grants less. Readings typed while the program is away, and over a reload and a new start with a new secret, are kept.
func TestPageTheRoundOnAPhone(t *testing.T) {
	store, o := relayOptions(t)
	m := relaySheet(t)
	listener, err := net.Listen("tcp", net.JoinHostPort(ownAddress(t), "0"))
	if err != nil {
		t.Fatal(err)
	}
	var handler atomic.Pointer[http.Handler]
	var away atomic.Bool
	begun := func(secret string) Phone {
		p := Phone{Address: listener.Addr().String(), Secret: secret}
		o.Phone = &p
		_, h, err := NewWithPhone(o)
		if err != nil {
			t.Fatal(err)
		}
		handler.Store(&h)
		return p
	}
	s := httptest.NewUnstartedServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if away.Load() {
			panic(http.ErrAbortHandler)
		}
		(*handler.Load()).ServeHTTP(w, r)
	}))
	s.Listener.Close()
	s.Listener = listener
	first := begun(phoneSecret)
	s.Start()
	t.Cleanup(func() {
		s.Listener.Close()
		s.CloseClientConnections()
		s.Close()
	})

	p := window(t, hand, first.URL())
	p.run(`document.querySelector("a[href$='/job/lathe.job.yaml/readings']").click()`)
	p.wait("the readings", `document.getElementById("begin")?.checkVisibility() && document.body.dataset.ready`)
	if !strings.HasPrefix(listener.Addr().String(), "127.") && evaluate[bool](p, `isSecureContext`) {
		t.Error("the browser takes this for a page of its own computer: the test tests less than it says")
	}
	if evaluate[bool](p, `Boolean(document.querySelector(".phone, .phone .code"))`) {
		t.Error("the phone's page shows the way to the phone")
	}
	if got := evaluate[float64](p, `document.documentElement.scrollWidth`); got > 390 {
		t.Errorf("the page is %v wide", got)
	}
	p.shot("phone-begin", false)
	p.deed("begin")
	measure := func(n int) {
		t.Helper()
		p.reading(m.Readings[n].ID)
		p.tapped(soundKeys(m.Readings[n].Expect)...)
		p.tapped("done")
	}
	measure(0)
	p.wait("it to be judged", ruling+` === "ruling right"`)
	p.shot("phone-right", false)
	if got := len(store.recorded("lathe.job.yaml")); got != 1 {
		t.Fatalf("%d readings are written down, want 1", got)
	}

	// The program is away: what is typed is kept, and the page says so.
	away.Store(true)
	s.CloseClientConnections()
	measure(1)
	p.wait("the page to say that it keeps it", `document.getElementById("state").textContent.includes("1 kept here, will be sent")`)
	measure(2)
	p.shot("phone-away", false)
	// The program is started anew: the old address isn't valid any more, and the page says so without losing anything.
	second := begun(strings.Repeat("z2", 13))
	away.Store(false)
	p.wait("the page to say that its address has ended", `document.getElementById("banner").textContent.includes("not valid")`)
	if got := len(store.recorded("lathe.job.yaml")); got != 1 {
		t.Errorf("%d readings are written down by the old address, want 1", got)
	}
	p.visit("http://" + second.Address + second.base() + "/job/lathe.job.yaml/readings")
	p.wait("all to be sent", `document.getElementById("state").textContent === "" && JSON.parse(localStorage.getItem("drivewright readings lathe.job.yaml")).queue.length === 0`)
	lines := store.recorded("lathe.job.yaml")
	taken, problems := prove.ReadRecords("lathe.readings", []byte(strings.Join(lines, "\n")+"\n"))
	if len(taken) != 3 || len(problems) > 0 {
		t.Fatalf("written down: %q, %v", lines, problems)
	}
	for n, r := range taken {
		if r.Reading != m.Readings[n].ID {
			t.Errorf("line %d is of %s, want %s", n+1, r.Reading, m.Readings[n].ID)
		}
	}
}

// The computer's page shows the way to the phone, and a camera reads the page's address from it.
func TestPageOpenOnYourPhone(t *testing.T) {
	_, o := relayOptions(t)
	o.Phone = &Phone{Address: phoneHost, Secret: phoneSecret}
	computer, _, err := NewWithPhone(o)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range []look{desk, handNight} {
		p := window(t, l, readingsAddress(started(t, computer)))
		p.wait("the readings to be chosen", `document.getElementById("begin")?.checkVisibility() && document.body.dataset.ready`)
		p.run(`document.querySelector(".phone summary").click(); document.querySelector(".phone .address").scrollIntoView()`)
		want := "http://" + phoneHost + "/" + phoneSecret + "/job/lathe.job.yaml/readings"
		if got := p.text(".phone .address"); got != want {
			t.Errorf("the page shows %q, want %q", got, want)
		}
		picture := p.shot("phone-way-"+l.String(), false)
		if got, ok := scanned(t, picture); ok && got != want {
			t.Errorf("%s: a camera reads %q, want %q", l, got, want)
		}
	}
	// Without a listener for phones nothing points to one.
	_, s := relayServer(t)
	answer, err := http.Get(readingsAddress(s))
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	if page, err := io.ReadAll(answer.Body); err != nil || bytes.Contains(page, []byte(`class="phone"`)) {
		t.Errorf("a way to the phone is shown where there is none (%v)", err)
	}
}

// The code in the terminal, drawn as its characters look, is read by a camera, with colour and without.
func TestTheCodeInTheTerminal(t *testing.T) {
	for _, address := range []string{Phone{Address: phoneHost, Secret: phoneSecret}.URL(), Phone{Address: "[fd00:1234:5678:9abc:def0:1234:5678:9abc]:65535", Secret: phoneSecret}.URL()} {
		code, err := NewCode(address)
		if err != nil {
			t.Fatal(err)
		}
		for _, colour := range []bool{true, false} {
			got, ok := scanned(t, terminalPicture(t, code.Terminal(colour), colour))
			if ok && got != address {
				t.Errorf("colour %v: a camera reads %q, want %q", colour, got, address)
			}
			for line := range strings.Lines(code.Terminal(colour)) {
				if n := len([]rune(strings.NewReplacer("\x1b[38;5;16;48;5;231m", "", "\x1b[0m", "", "\n", "").Replace(line))); n > 60 {
					t.Errorf("a line is %d characters wide", n)
				}
			}
		}
	}
}

// terminalPicture draws half blocks: black on white with colour, white on black without.
func terminalPicture(t *testing.T, text string, colour bool) []byte {
	t.Helper()
	const size = 6
	text = strings.NewReplacer("\x1b[38;5;16;48;5;231m", "", "\x1b[0m", "").Replace(text)
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	ink, paper := color.Gray{0}, color.Gray{255}
	if !colour {
		ink, paper = paper, ink
	}
	picture := image.NewGray(image.Rect(0, 0, size*len([]rune(lines[0])), 2*size*len(lines)))
	for y := range picture.Bounds().Dy() {
		for x := range picture.Bounds().Dx() {
			c := []rune(lines[y/size/2])[x/size]
			inked := c == '█' || (y/size%2 == 0 && c == '▀') || (y/size%2 == 1 && c == '▄')
			picture.SetGray(x, y, paper)
			if inked {
				picture.SetGray(x, y, ink)
			}
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, picture); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// scanned reads the QR code in a picture with zbarimg, a reader of another make than what wrote it; false where there is none.
func scanned(t *testing.T, picture []byte) (string, bool) {
	t.Helper()
	program, err := exec.LookPath("zbarimg")
	if err != nil {
		if os.Getenv("DRIVEWRIGHT_REQUIRE_TOOLS") != "" {
			t.Fatal("no zbarimg")
		}
		t.Log("no zbarimg: the code isn't read")
		return "", false
	}
	file := t.TempDir() + "/picture.png"
	if err := os.WriteFile(file, picture, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.CommandContext(t.Context(), program, "--raw", "-q", "-Sdisable", "-Sqrcode.enable", file).Output()
	if err != nil {
		t.Errorf("the code can't be read: %v", err)
	}
	return strings.TrimSpace(string(out)), true
}
