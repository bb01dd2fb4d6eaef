package web

import (
	"mime"
	"net"
	"net/http"
	"strings"
)

// largestBody is the most that a request may carry: a job file is a few kilobytes.
const largestBody = 1 << 20

// contentPolicy lets the page load only what this server embeds: no script or style within the page, no frame around it.
const contentPolicy = "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self' data:; connect-src 'self'; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// door says by which name a listener is asked, and what one is told who asks by another.
type door struct {
	own   func(r *http.Request) bool
	wrong string
	// loopback is true where browsers trust a page as they trust one over HTTPS, and heed more headers.
	loopback bool
}

// thisComputer is the door of the live sheet.
var thisComputer = door{ownHost, "this server answers only on its own loopback address", true}

// guard refuses whatever doesn't come from this server's own pages. A page elsewhere on the web can make the user's browser
// send requests here; it can neither name the right host (a name of its own that it points at this computer doesn't pass)
// nor have an origin of ours.
func guard(d door, next http.Handler) http.Handler {
	own := http.NewCrossOriginProtection().Handler(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", contentPolicy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("X-Frame-Options", "DENY")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		if d.loopback {
			h.Set("Cross-Origin-Opener-Policy", "same-origin")
		}
		h.Set("Cache-Control", "no-store")
		switch {
		case !d.own(r):
			refuse(w, http.StatusMisdirectedRequest, d.wrong)
			return
		case r.Header.Get("Sec-Fetch-Site") == "cross-site" && r.Header.Get("Sec-Fetch-Mode") != "navigate":
			refuse(w, http.StatusForbidden, "asked for by a page from elsewhere")
			return
		case changes(r.Method) && !isJSON(r):
			refuse(w, http.StatusUnsupportedMediaType, "a change is sent as application/json")
			return
		}
		if changes(r.Method) {
			if origin := r.Header.Get("Origin"); origin != "" && origin != "http://"+r.Host {
				refuse(w, http.StatusForbidden, "sent by a page from elsewhere")
				return
			}
			r.Body = http.MaxBytesReader(w, r.Body, largestBody)
		}
		own.ServeHTTP(w, r)
	})
}

// changes reports whether a request of the method may change something.
func changes(method string) bool {
	return method != http.MethodGet && method != http.MethodHead && method != http.MethodOptions
}

func isJSON(r *http.Request) bool {
	kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	return err == nil && kind == "application/json"
}

// ownHost reports whether the request names this computer's loopback address and the port it came in by.
func ownHost(r *http.Request) bool {
	local, ok := r.Context().Value(http.LocalAddrContextKey).(net.Addr)
	if !ok {
		return false
	}
	_, port, err := net.SplitHostPort(local.String())
	if err != nil {
		return false
	}
	name, asked, err := net.SplitHostPort(r.Host)
	if err != nil { // no port in it: the port that http means
		name, asked = strings.Trim(r.Host, "[]"), "80"
	}
	if asked != port {
		return false
	}
	return strings.EqualFold(name, "localhost") || name == "127.0.0.1" || name == "::1"
}

func refuse(w http.ResponseWriter, status int, why string) {
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write([]byte(why + "\n")) // the asker went away: nobody to tell
}

// properName reports whether the name can be a job file's: no folder, no hidden file, nothing that a file system reads in a
// way of its own. The Store checks again.
func properName(name string) bool {
	if name == "" || len(name) > 120 || name[0] == '.' || strings.Contains(name, "..") || !strings.HasSuffix(name, ".yaml") {
		return false
	}
	for _, c := range name {
		if c < ' ' || c == 0x7f || strings.ContainsRune(`/\:*?"<>|`, c) {
			return false
		}
	}
	return true
}
