package web

import (
	"context"
	"fmt"
	"net/http/httptest"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// The browser tests run the real page in a real browser without a window. One browser serves the whole package; each test has
// a window of its own with nothing stored in it.

// browserPath is where Debian puts it.
const browserPath = "/usr/bin/chromium"

// browser is the context of the one browser; nil when there is none.
var browser context.Context

func TestMain(m *testing.M) {
	os.Exit(runWithBrowser(m))
}

func runWithBrowser(m *testing.M) int {
	if _, err := os.Stat(browserPath); err != nil {
		return m.Run()
	}
	profile, err := os.MkdirTemp("", "drivewright-browser-")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	defer os.RemoveAll(profile)
	allocator, stop := chromedp.NewExecAllocator(context.Background(), chromedp.ExecPath(browserPath), chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.NoFirstRun, chromedp.UserDataDir(profile), chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true), chromedp.Flag("force-color-profile", "srgb"), chromedp.Flag("hide-scrollbars", true))
	defer stop()
	ctx, cancel := chromedp.NewContext(allocator)
	defer cancel()
	browser = ctx
	return m.Run()
}

// startBrowser starts the one browser, for whichever test asks first.
var startBrowser = sync.OnceValue(func() error { return chromedp.Do(browser, chromedp.Navigate("about:blank")) })

// needBrowser skips the test where there is no browser, unless the environment says that the tools must be there.
func needBrowser(t testing.TB) {
	t.Helper()
	if browser != nil {
		return
	}
	if os.Getenv("DRIVEWRIGHT_REQUIRE_TOOLS") != "" {
		t.Fatalf("no browser at %s", browserPath)
	}
	t.Skipf("no browser at %s", browserPath)
}

// tab is one open page.
type tab struct {
	testing.TB
	ctx context.Context

	mu         sync.Mutex
	complaints []string // what the browser logged as an error
}

// look says how the page is looked at.
type look struct {
	width, height int64
	dark          bool
	touch         bool
}

var (
	desk      = look{width: 1280, height: 900}
	deskNight = look{width: 1280, height: 900, dark: true}
	hand      = look{width: 390, height: 844, touch: true}
	handNight = look{width: 390, height: 844, touch: true, dark: true}
)

func (l look) String() string {
	name := fmt.Sprint(l.width)
	if l.dark {
		return name + "-dark"
	}
	return name + "-light"
}

// window opens the address in a window of its own.
func window(t testing.TB, l look, address string) *tab {
	t.Helper()
	needBrowser(t)
	if err := startBrowser(); err != nil {
		t.Fatal(err)
	}
	return opened(t, browser, l, address, chromedp.WithNewBrowserContext())
}

// another opens the address in a second tab of the same window: it shares what the first has stored.
func (p *tab) another(l look, address string) *tab {
	p.Helper()
	return opened(p.TB, p.ctx, l, address)
}

func opened(t testing.TB, from context.Context, l look, address string, options ...chromedp.ContextOption) *tab {
	t.Helper()
	ctx, cancel := chromedp.NewContext(from, options...)
	t.Cleanup(cancel)
	ctx, stop := context.WithTimeout(ctx, 3*time.Minute) // a busy machine, not a stuck page
	t.Cleanup(stop)
	p := &tab{TB: t, ctx: ctx}
	p.listen()
	scheme := "light"
	if l.dark {
		scheme = "dark"
	}
	p.do(viewport(l), media("", scheme))
	p.visit(address)
	return p
}

// listen fails the test when a script of the page fails, or when the page asks for something that its own content policy
// refuses. That a request was refused or didn't arrive is part of some tests and no failure.
func (p *tab) listen() {
	err := chromedp.Listen(p.ctx, func(event any) {
		p.mu.Lock()
		defer p.mu.Unlock()
		switch e := event.(type) {
		case *runtime.EventExceptionThrown:
			text := e.ExceptionDetails.Text
			if e.ExceptionDetails.Exception != nil {
				text += " " + e.ExceptionDetails.Exception.Description
			}
			p.complaints = append(p.complaints, text)
		case *log.EventEntryAdded:
			if e.Entry.Level == log.EntryLevelError && !strings.HasPrefix(e.Entry.Text, "Failed to load resource") {
				p.complaints = append(p.complaints, e.Entry.Text)
			}
		}
	})
	if err != nil {
		p.Fatal(err)
	}
	p.Cleanup(func() {
		for _, c := range p.heard() {
			p.Errorf("the browser complains: %s", c)
		}
	})
}

// heard returns the complaints so far, and forgets them.
func (p *tab) heard() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	c := p.complaints
	p.complaints = nil
	return c
}

func viewport(l look) chromedp.Action[chromedp.Void] {
	if l.touch {
		return chromedp.EmulateViewport(l.width, l.height, chromedp.EmulateMobile, chromedp.EmulateTouch)
	}
	return chromedp.EmulateViewport(l.width, l.height)
}

// media shows the page on "print" or, "", on a screen, light or dark.
func media(kind, scheme string) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: kind,
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}, {Name: "prefers-reduced-motion", Value: "reduce"}}})
		return err
	})
}

// visit goes to the address and waits until its script has begun, where it has one that says so.
func (p *tab) visit(address string) {
	p.Helper()
	p.do(chromedp.Navigate(address))
	if strings.Contains(address, "/job/") && !strings.HasSuffix(address, "/versions") {
		p.wait("the page to begin", `document.body.dataset.ready === "yes"`)
	}
}

func (p *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	p.Helper()
	if err := chromedp.Do(p.ctx, steps...); err != nil {
		p.Fatal(err)
	}
}

// evaluate returns what the expression gives in the page.
func evaluate[T any](p *tab, expression string) T {
	p.Helper()
	v, err := chromedp.Run(p.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		p.Fatalf("%s: %v", expression, err)
	}
	return v
}

// run executes the statement in the page.
func (p *tab) run(statement string) {
	p.Helper()
	evaluate[bool](p, "(() => {"+statement+"; return true})()")
}

// wait waits until the condition holds in the page.
func (p *tab) wait(what, condition string) {
	p.Helper()
	for end := time.Now().Add(10 * time.Second); ; time.Sleep(15 * time.Millisecond) {
		// While the page is being left there is nothing to ask: that is no answer yet.
		if ok, err := chromedp.Run(p.ctx, chromedp.Evaluate[bool]("(() => { try { return Boolean("+condition+") } catch { return false } })()")); err == nil && ok {
			return
		}
		if time.Now().After(end) {
			p.Fatalf("waited in vain for %s; the page says: %s", what, evaluate[string](p, `[location.href, document.getElementById("state")?.textContent, document.getElementById("said")?.textContent, document.getElementById("banner")?.textContent, ...[...document.querySelectorAll(".refusal")].map(r => r.textContent).filter(Boolean)].join(" | ")`))
		}
	}
}

// key presses keys, as a person at the keyboard does.
func (p *tab) key(keys string, options ...chromedp.KeyOption) {
	p.Helper()
	p.do(chromedp.KeyEvent(keys, options...))
}

// write puts the text into the control of the value at the path, as if typed, without taking it.
func (p *tab) write(path, text string) {
	p.Helper()
	p.run(fmt.Sprintf(`const c = document.querySelector('[data-path=%q]'); for (let d; (d = c.closest("details:not([open])")); ) d.open = true; c.focus(); c.select()`, path))
	p.do(chromedp.KeyEvent(text))
}

// value is what stands in the control of the value at the path.
func (p *tab) value(path string) string {
	p.Helper()
	return evaluate[string](p, fmt.Sprintf(`document.querySelector('[data-path=%q]').value`, path))
}

// text is what the first element of the selector shows.
func (p *tab) text(selector string) string {
	p.Helper()
	return evaluate[string](p, fmt.Sprintf(`document.querySelector(%q)?.textContent.trim().replace(/\s+/g, " ") ?? ""`, selector))
}

// shot writes a picture of the page into the folder named by DRIVEWRIGHT_SHOTS, if there is one.
func (p *tab) shot(name string, whole bool) []byte {
	p.Helper()
	var picture []byte
	var err error
	if whole {
		picture, err = chromedp.Run(p.ctx, chromedp.FullScreenshot(100))
	} else {
		picture, err = chromedp.Run(p.ctx, chromedp.CaptureScreenshot())
	}
	if err != nil {
		p.Fatal(err)
	}
	if folder := os.Getenv("DRIVEWRIGHT_SHOTS"); folder != "" {
		if err := os.WriteFile(folder+"/"+name+".png", picture, 0o644); err != nil {
			p.Fatal(err)
		}
	}
	return picture
}

// jobAddress is the address of the sheet of the tests' lathe.
func jobAddress(s *httptest.Server) string { return s.URL + "/job/lathe.job.yaml" }
