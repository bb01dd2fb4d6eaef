package web

import (
	"crypto/sha256"
	"crypto/subtle"
	"errors"
	"fmt"
	"html/template"
	"net"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"time"
)

// A phone at the machine gets the readings of the jobs, and nothing else of the live sheet: no sheet, no editing, no file, no
// undo. It comes by a listener of its own, through an address that holds a secret made up at each start; whoever knows the
// address may write readings. There is no encryption: on a shop's network nobody signs certificates.

// Phone is the way by which a phone gets the readings.
type Phone struct {
	// Address is host and port of the listener for phones, and the only Host that it answers to: "192.168.1.7:8378".
	Address string
	// Secret is what every address begins with: at least 128 random bits as letters and digits.
	Secret string
}

// shortestSecret is 128 bits as letters and digits of base 32.
const shortestSecret = 26

// proper reports what keeps the way from being opened.
func (p Phone) proper() error {
	odd := func(c rune) bool { return (c < '0' || c > '9') && (c < 'a' || c > 'z') }
	if len(p.Secret) < shortestSecret || strings.ContainsFunc(p.Secret, odd) {
		return fmt.Errorf("a phone's secret is at least %d small letters and digits", shortestSecret)
	}
	if _, _, err := net.SplitHostPort(p.Address); err != nil {
		return fmt.Errorf("a phone's address: %w", err)
	}
	return nil
}

func (p Phone) base() string { return "/" + p.Secret }

// URL is the address to open on the phone: the list of jobs.
func (p Phone) URL() string { return "http://" + p.Address + p.base() + "/" }

// phoneShown is the way as the computer's page shows it.
type phoneShown struct {
	Address string
	Picture template.HTML
}

// shown shows the way to one page, whose path begins with a slash.
func (p Phone) shown(path string) (*phoneShown, error) {
	address := "http://" + p.Address + p.base() + path
	code, err := NewCode(address)
	if err != nil {
		return nil, err
	}
	return &phoneShown{address, code.svg()}, nil
}

// ownNetwork is the door for phones: they name the very address and port that they came in by.
var ownNetwork = door{func(r *http.Request) bool {
	local, ok := r.Context().Value(http.LocalAddrContextKey).(net.Addr)
	return ok && (r.Host == local.String() || r.Host+":80" == local.String())
}, "this server answers only to its own address", false}

// The most that phones may do: one hand types a reading in seconds, and a page that was away sends all it has at once.
const (
	mostAtOnce   = 20                     // changes
	changeEvery  = 200 * time.Millisecond // and then
	mostStreams  = 24                     // pages that are open at a time
	mostOfAPhone = 128 << 10              // bytes of a body: mostTaken readings with long names
)

// secretly lets through what begins with the secret, and strips it.
func (s *server) secretly(p Phone, next http.Handler) http.Handler {
	secret := sha256.Sum256([]byte(p.Secret))
	within := http.StripPrefix(p.base(), next)
	changed := &allowance{left: mostAtOnce, most: mostAtOnce, every: changeEvery}
	streams := make(chan struct{}, mostStreams)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		first, rest, _ := strings.Cut(strings.TrimPrefix(r.URL.Path, "/"), "/")
		// Sums of one length are compared, in one time whatever is in them.
		given := sha256.Sum256([]byte(first))
		if subtle.ConstantTimeCompare(given[:], secret[:]) != 1 {
			s.refusePhone(w, r, http.StatusForbidden, "this address is not valid, or not any more: open the one that the program shows now; what was typed on this phone is kept until then")
			return
		}
		if changes(r.Method) {
			if !changed.take(time.Now()) {
				s.refusePhone(w, r, http.StatusTooManyRequests, "too much at once: it is tried again")
				return
			}
			r.Body = http.MaxBytesReader(w, r.Body, mostOfAPhone)
		}
		if strings.HasSuffix(rest, "/events") {
			select {
			case streams <- struct{}{}:
				defer func() { <-streams }()
			default:
				s.refusePhone(w, r, http.StatusServiceUnavailable, "too many pages are open")
				return
			}
		}
		within.ServeHTTP(w, r)
	})
}

// refusePhone answers a page in words, and a script as it expects it.
func (s *server) refusePhone(w http.ResponseWriter, r *http.Request, status int, why string) {
	if strings.Contains(r.Header.Get("Accept"), "text/html") {
		refuse(w, status, why)
		return
	}
	s.answer(w, status, refusal{Message: why})
}

// allowance is how much may still be done: so much at once, and one more each while.
type allowance struct {
	mu         sync.Mutex
	left, most int
	every      time.Duration
	since      time.Time // when left was last counted
}

// take uses one up; false if none is left.
func (a *allowance) take(now time.Time) bool {
	a.mu.Lock()
	defer a.mu.Unlock()
	if grown := int(now.Sub(a.since) / a.every); grown > 0 {
		a.left, a.since = min(a.most, a.left+min(grown, a.most)), now
	}
	if a.left == 0 {
		return false
	}
	a.left--
	return true
}

// phoneJobs lists the jobs whose readings can be taken.
func (s *server) phoneJobs(w http.ResponseWriter, _ *http.Request) {
	entries, err := s.Store.List()
	if err != nil {
		s.fail(w, errors.New("the folder of the jobs")) // its place is none of a phone's business
		return
	}
	type line struct{ Title, Link string }
	var jobs []line
	for _, e := range entries {
		jobs = append(jobs, line{title(e.Name), s.Phone.base() + "/job/" + url.PathEscape(e.Name) + "/readings"})
	}
	s.show(w, "phone_jobs.tmpl", struct {
		Base string
		Jobs []line
	}{s.Phone.base(), jobs})
}

// noReadings answers that there is no such job.
func (s *server) noReadings(w http.ResponseWriter, base string) {
	if base == "" {
		s.missing(w)
		return
	}
	refuse(w, http.StatusNotFound, "there is no job of that name")
}
