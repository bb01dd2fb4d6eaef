package web

import (
	"context"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// Each row is a request that a page elsewhere on the web, another program or a slip could send, and what must come of it.
// Sources: RFC 9110 section 7.4 (rejecting misdirected requests); the Fetch Metadata and Origin headers as W3C and WHATWG define
// them; the description of cross-origin protection in Go's net/http.
func TestRequestsThatAreNotTheUsersOwn(t *testing.T) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	h, err := New(testOptions(store))
	if err != nil {
		t.Fatal(err)
	}
	local, err := net.ResolveTCPAddr("tcp", "127.0.0.1:8123")
	if err != nil {
		t.Fatal(err)
	}
	body := `{"path":"supply.breaker","text":"40 A","token":"` + tokenOf([]byte(lathe)) + `"}`
	own := map[string]string{"Content-Type": "application/json", "Origin": "http://127.0.0.1:8123", "Sec-Fetch-Site": "same-origin"}
	with := func(changes ...string) map[string]string {
		m := map[string]string{}
		for k, v := range own {
			m[k] = v
		}
		for n := 0; n < len(changes); n += 2 {
			if m[changes[n]] = changes[n+1]; changes[n+1] == "" {
				delete(m, changes[n])
			}
		}
		return m
	}
	const value = "/job/lathe.job.yaml/value"
	const readings = "/job/lathe.job.yaml/readings"
	const taken = `{"taken":[{"key":"1","reading":"T1","value":"passed","at":"2026-11-25 11:30:00"}]}`
	whole, err := http.Get(started(t, h).URL + "/job/lathe.job.yaml/as/json") // the proof is there
	if err != nil {
		t.Fatal(err)
	}
	whole.Body.Close()
	rows := []struct {
		name, method, host, path, body string
		headers                        map[string]string
		want                           int
	}{
		{"the sheet's own page changes a value", "PUT", "127.0.0.1:8123", value, body, own, 200},
		{"a command-line client without browser headers changes a value", "PUT", "127.0.0.1:8123", value, body, map[string]string{"Content-Type": "application/json"}, 200},
		{"the user reads the list by the name localhost", "GET", "localhost:8123", "/", "", nil, 200},
		{"the user reads the list by the IPv6 loopback address", "GET", "[::1]:8123", "/", "", nil, 200},
		{"the user follows a link to the sheet from a page elsewhere", "GET", "127.0.0.1:8123", "/job/lathe.job.yaml", "", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate"}, 200},

		{"a foreign name that was pointed at this computer reads the list", "GET", "evil.example:8123", "/", "", nil, 421},
		{"a foreign name that was pointed at this computer changes a value", "PUT", "evil.example:8123", value, body, with("Origin", "http://evil.example:8123"), 421},
		{"a name that begins like ours", "GET", "127.0.0.1.evil.example:8123", "/", "", nil, 421},
		{"a name that ends like ours", "GET", "evil-localhost:8123", "/", "", nil, 421},
		{"the wrong port", "GET", "127.0.0.1:9999", "/", "", nil, 421},
		{"no port at all", "GET", "127.0.0.1", "/", "", nil, 421},
		{"an address of this computer on the network", "GET", "192.168.1.7:8123", "/", "", nil, 421},
		{"an empty host", "GET", "", "/", "", nil, 421},
		{"a user name before the host", "GET", "127.0.0.1:8123@evil.example", "/", "", nil, 421},

		{"a page elsewhere sends a change", "PUT", "127.0.0.1:8123", value, body, with("Origin", "http://evil.example", "Sec-Fetch-Site", "cross-site"), 403},
		{"a page elsewhere sends a change and hides where from", "PUT", "127.0.0.1:8123", value, body, with("Origin", "null", "Sec-Fetch-Site", "cross-site"), 403},
		{"a page on another port of this computer sends a change", "PUT", "127.0.0.1:8123", value, body, with("Origin", "http://127.0.0.1:3000", "Sec-Fetch-Site", "same-site"), 403},
		{"an old browser names a foreign origin", "PUT", "127.0.0.1:8123", value, body, with("Origin", "http://evil.example", "Sec-Fetch-Site", ""), 403},
		{"an old browser names no origin as null", "PUT", "127.0.0.1:8123", value, body, with("Origin", "null", "Sec-Fetch-Site", ""), 403},
		{"the same host over another scheme", "PUT", "127.0.0.1:8123", value, body, with("Origin", "https://127.0.0.1:8123", "Sec-Fetch-Site", ""), 403},
		{"a page elsewhere loads the sheet as a picture", "GET", "127.0.0.1:8123", "/job/lathe.job.yaml/as/json", "", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "no-cors"}, 403},
		{"a page elsewhere listens to changes", "GET", "127.0.0.1:8123", "/job/lathe.job.yaml/events", "", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "cors"}, 403},

		{"a form sent from anywhere", "POST", "127.0.0.1:8123", "/jobs", "title=x", with("Content-Type", "application/x-www-form-urlencoded"), 415},
		{"JSON dressed as plain text", "PUT", "127.0.0.1:8123", value, body, with("Content-Type", "text/plain"), 415},
		{"a change without a content type", "PUT", "127.0.0.1:8123", value, body, with("Content-Type", ""), 415},
		{"a body larger than any job", "PUT", "127.0.0.1:8123", value, `{"text":"` + strings.Repeat("x", largestBody) + `"}`, own, 413},
		{"a body that is no JSON", "PUT", "127.0.0.1:8123", value, `{"path":`, own, 400},
		{"a body with fields that nobody knows", "PUT", "127.0.0.1:8123", value, `{"path":"units","text":"metric","run":"rm"}`, own, 400},
		{"an empty body", "PUT", "127.0.0.1:8123", value, ``, own, 400},

		{"a job name that climbs out of the folder", "GET", "127.0.0.1:8123", "/job/..%2f..%2fetc%2fpasswd.yaml", "", nil, 404},
		{"a job name that climbs out with backslashes", "GET", "127.0.0.1:8123", `/job/..%5c..%5cx.yaml`, "", nil, 404},
		{"a job name with a nought in it", "GET", "127.0.0.1:8123", "/job/lathe%00.yaml", "", nil, 404},
		{"a hidden file", "GET", "127.0.0.1:8123", "/job/.secret.yaml", "", nil, 404},
		{"a file that is no job", "GET", "127.0.0.1:8123", "/job/id_rsa", "", nil, 404},
		{"a job that isn't there", "GET", "127.0.0.1:8123", "/job/nobody.job.yaml", "", nil, 404},
		{"a change to a job that climbs out", "PUT", "127.0.0.1:8123", "/job/..%2fx.yaml/value", body, own, 404},
		{"an asset that climbs out", "GET", "127.0.0.1:8123", "/assets/..%2fweb.go", "", nil, 404},
		{"a version that climbs out", "POST", "127.0.0.1:8123", "/job/lathe.job.yaml/bring-back", `{"version":"../../etc/passwd","token":"` + tokenOf([]byte(lathe)) + `"}`, own, 404},
		{"a form of the sheet that isn't offered", "GET", "127.0.0.1:8123", "/job/lathe.job.yaml/as/exe", "", nil, 404},
		{"a new job whose name makes no file name", "POST", "127.0.0.1:8123", "/jobs", `{"title":"../.."}`, own, 422},
		{"a new job without a name", "POST", "127.0.0.1:8123", "/jobs", `{"title":"  "}`, own, 422},
		{"the readings' own page writes one down", "POST", "127.0.0.1:8123", readings, taken, own, 200},
		{"a foreign name that was pointed at this computer reads the readings", "GET", "evil.example:8123", readings, "", nil, 421},
		{"a telephone on the network, which isn't this computer, reads the readings", "GET", "192.168.1.7:8123", readings, "", nil, 421},
		{"a foreign name writes a reading down", "POST", "evil.example:8123", readings, taken, with("Origin", "http://evil.example:8123"), 421},
		{"a page elsewhere writes a reading down", "POST", "127.0.0.1:8123", readings, taken, with("Origin", "http://evil.example", "Sec-Fetch-Site", "cross-site"), 403},
		{"an old browser writes a reading down for a foreign page", "POST", "127.0.0.1:8123", readings, taken, with("Origin", "http://evil.example", "Sec-Fetch-Site", ""), 403},
		{"a page elsewhere looks at what was taken", "GET", "127.0.0.1:8123", readings + "/now", "", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "cors"}, 403},
		{"a reading as a form", "POST", "127.0.0.1:8123", readings, "taken=open", with("Content-Type", "application/x-www-form-urlencoded"), 415},
		{"a reading dressed as plain text", "POST", "127.0.0.1:8123", readings, taken, with("Content-Type", "text/plain"), 415},
		{"readings that are no JSON", "POST", "127.0.0.1:8123", readings, `{"taken":`, own, 400},
		{"readings with fields that nobody knows", "POST", "127.0.0.1:8123", readings, `{"taken":[],"file":"/etc/passwd"}`, own, 400},
		{"more readings than any round has", "POST", "127.0.0.1:8123", readings, `{"taken":[` + strings.Repeat(`{},`, mostTaken) + `{}]}`, own, 400},
		{"readings larger than any job", "POST", "127.0.0.1:8123", readings, `{"taken":[{"value":"` + strings.Repeat("x", largestBody) + `"}]}`, own, 413},
		{"readings of a job that climbs out of the folder", "POST", "127.0.0.1:8123", "/job/..%2fx.yaml/readings", taken, own, 404},
		{"readings of a job that isn't there", "POST", "127.0.0.1:8123", "/job/nobody.job.yaml/readings", taken, own, 404},
		{"the page of readings of a hidden file", "GET", "127.0.0.1:8123", "/job/.secret.yaml/readings", "", nil, 404},
		{"what was taken of a job that climbs out", "GET", "127.0.0.1:8123", "/job/..%2fx.yaml/readings/now", "", nil, 404},
		{"changing the readings, which nobody offers", "PUT", "127.0.0.1:8123", readings, taken, own, 405},
		{"deleting the readings, which nobody offers", "DELETE", "127.0.0.1:8123", readings, "", own, 405},
		{"deleting, which nobody offers", "DELETE", "127.0.0.1:8123", "/job/lathe.job.yaml", "", own, 405},
	}
	written := 0
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			store.editOutside("lathe.job.yaml", func(string) string { return lathe })
			ctx, cancel := context.WithCancel(context.WithValue(t.Context(), http.LocalAddrContextKey, net.Addr(local)))
			defer cancel()
			r := httptest.NewRequestWithContext(ctx, row.method, "http://127.0.0.1:8123"+row.path, strings.NewReader(row.body))
			r.Host = row.host
			for k, v := range row.headers {
				r.Header.Set(k, v)
			}
			w := httptest.NewRecorder()
			h.ServeHTTP(w, r)
			if w.Code != row.want {
				t.Errorf("got %d, want %d: %s", w.Code, row.want, w.Body)
			}
			if row.want != 200 && store.text("lathe.job.yaml") != lathe {
				t.Error("the refused request changed the job file")
			}
			if n := len(store.recorded("lathe.job.yaml")); n > written && row.want != 200 {
				t.Error("the refused request wrote a reading down")
			} else if n == written && row.want == 200 && row.method == "POST" {
				t.Error("the accepted request wrote nothing down")
			} else {
				written = n
			}
			if row.want == 200 && row.method == "PUT" && store.text("lathe.job.yaml") == lathe {
				t.Error("the accepted request changed nothing")
			}
			for header, want := range map[string]string{"X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer", "X-Frame-Options": "DENY"} {
				if got := w.Header().Get(header); got != want {
					t.Errorf("%s: got %q, want %q", header, got, want)
				}
			}
			policy := w.Header().Get("Content-Security-Policy")
			if !strings.Contains(policy, "script-src 'self'") || !strings.Contains(policy, "frame-ancestors 'none'") || strings.Contains(policy, "unsafe") {
				t.Errorf("content policy: %q", policy)
			}
		})
	}
}

// A request that reaches the handler without a connection under it, as behind a proxy of somebody's making, has no port to
// compare with and is refused.
func TestARequestWithoutAConnectionIsRefused(t *testing.T) {
	h, err := New(testOptions(newMemoryStore(nil)))
	if err != nil {
		t.Fatal(err)
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, httptest.NewRequest("GET", "http://127.0.0.1:8123/", nil))
	if w.Code != http.StatusMisdirectedRequest {
		t.Errorf("got %d, want 421", w.Code)
	}
}

func TestNoScriptOrStyleStandsInThePages(t *testing.T) {
	s := serve(t, newMemoryStore(map[string]string{"lathe.job.yaml": lathe}))
	for _, path := range []string{"/", "/job/lathe.job.yaml", "/job/lathe.job.yaml/versions", "/job/lathe.job.yaml/readings", "/job/lathe.job.yaml/box", "/job/lathe.job.yaml/photo"} {
		answer, err := http.Get(s.URL + path)
		if err != nil {
			t.Fatal(err)
		}
		page, err := io.ReadAll(answer.Body)
		if err != nil {
			t.Fatal(err)
		}
		answer.Body.Close()
		for _, inline := range []string{"<style", " style=", "<script>", " onclick=", " onload=", "javascript:"} {
			if strings.Contains(string(page), inline) {
				t.Errorf("%s holds %q, which the content policy refuses", path, inline)
			}
		}
		if len(page) < 1000 {
			t.Errorf("%s: only %d bytes", path, len(page))
		}
	}
}

func FuzzProperName(f *testing.F) {
	for _, seed := range []string{"lathe.job.yaml", "../x.yaml", ".x.yaml", "a/b.yaml", "a\\b.yaml", "CON.yaml", "ä ö.yaml", "a\x00.yaml", "a..yaml", "c:x.yaml"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, name string) {
		if properName(name) && (strings.ContainsAny(name, "/\\\x00:") || strings.Contains(name, "..") || name[0] == '.' || len(name) > 120) {
			t.Errorf("%q passes as a job's name", name)
		}
	})
}
