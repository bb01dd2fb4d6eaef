package main

import (
	"net/http"
	"net/netip"
	"os"
	"strings"
	"sync"
	"testing"
	"time"
)

// Private addresses are those of RFC 1918 section 3 and RFC 4193 section 3; link-local ones of RFC 3927 and RFC 4291 are none.
func TestTheAddressForPhones(t *testing.T) {
	for _, row := range []struct {
		name, asked, own, want, complaint string
	}{
		{"one", "", "192.168.1.7", "192.168.1.7", ""},
		{"one beside public and link-local ones", "", "203.0.113.9 169.254.3.3 fe80::1 2001:db8::5 10.0.0.4", "10.0.0.4", ""},
		{"version 4 before version 6", "", "fd00::2 172.31.0.9", "172.31.0.9", ""},
		{"version 6 alone", "", "fe80::1 fd00::2", "fd00::2", ""},
		{"the same twice, once written as version 6", "", "192.168.1.7 ::ffff:192.168.1.7", "192.168.1.7", ""},
		{"none", "", "", "", "no address of a private network"},
		{"none that is private", "", "203.0.113.9 172.32.0.1 100.64.0.1 169.254.3.3 fe80::1 2001:db8::5", "", "no address of a private network"},
		{"several", "", "192.168.1.7 10.8.0.2", "", "choose the one of the phone's network, --phone=192.168.1.7 (there is 192.168.1.7, 10.8.0.2)"},
		{"several of version 6", "", "fd00::2 fd00::3", "", "(there is fd00::2, fd00::3)"},
		{"one of several", "10.8.0.2", "192.168.1.7 10.8.0.2", "10.8.0.2", ""},
		{"asked for, and not there", "10.8.0.3", "192.168.1.7 10.8.0.2", "", "has no such address (there is 192.168.1.7, 10.8.0.2)"},
		{"asked for, and public", "203.0.113.9", "203.0.113.9 10.8.0.2", "", "is no address of a private network"},
		{"asked for, and every address", "0.0.0.0", "10.8.0.2", "", "is no address of a private network"},
		{"asked for, and link-local", "fe80::1%eth0", "fe80::1 10.8.0.2", "", "is no address of a private network"},
		{"asked for, and a name", "bench", "10.8.0.2", "", "that is no address"},
	} {
		t.Run(row.name, func(t *testing.T) {
			var own []netip.Addr
			for _, a := range strings.Fields(row.own) {
				own = append(own, netip.MustParseAddr(a))
			}
			got, err := phoneAddress(row.asked, own)
			switch {
			case row.complaint != "" && (err == nil || !strings.Contains(err.Error(), row.complaint)):
				t.Errorf("got %v, %v; want a complaint with %q", got, err, row.complaint)
			case row.complaint == "" && (err != nil || got.String() != row.want):
				t.Errorf("got %v, %v; want %s", got, err, row.want)
			}
		})
	}
}

// The whole program lets a phone in by what it prints, each start by another secret, and shuts the door when it ends.
func TestServeForPhones(t *testing.T) {
	own, err := networkAddresses()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := phoneAddress("", own); err != nil {
		t.Skipf("this computer's network doesn't do: %v", err)
	}
	seen := map[string]bool{}
	for range 2 {
		out, complaints, interrupted, ended := &printed{}, &printed{}, make(chan struct{}), make(chan int)
		b := &bench{in: strings.NewReader(""), out: out, err: complaints, now: time.Now, home: os.UserHomeDir, version: "test", interrupted: func() <-chan struct{} { return interrupted }}
		folder := t.TempDir()
		go func() { ended <- run([]string{"serve", folder, "--no-open", "--port", "0", "--phone"}, b) }()
		for end := time.Now().Add(20 * time.Second); !strings.Contains(out.String(), "Ctrl-C ends it, and the address"); time.Sleep(10 * time.Millisecond) {
			if time.Now().After(end) {
				t.Fatalf("it says %s %s", out, complaints)
			}
		}
		_, address, _ := strings.Cut(out.String(), "same network: ")
		address, _, _ = strings.Cut(address, "\n")
		if seen[address] || !strings.Contains(out.String(), "anyone on this network who sees this address can write readings") {
			t.Errorf("it says %s", out)
		}
		seen[address] = true
		status := func(at string) int {
			answer, err := http.Get(at)
			if err != nil {
				return 0
			}
			answer.Body.Close()
			return answer.StatusCode
		}
		root := address[:strings.Index(address[len("http://"):], "/")+len("http://")]
		if within, without := status(address), status(root+"/"); within != 200 || without != 403 {
			t.Errorf("with the secret %d, without %d", within, without)
		}
		close(interrupted)
		if code := <-ended; code != exitFine {
			t.Errorf("it ended with %d: %s", code, complaints)
		}
		if got := status(address); got != 0 {
			t.Errorf("after its end it answers %d", got)
		}
	}
}

// printed is what is written by one goroutine and read by another.
type printed struct {
	mu   sync.Mutex
	text strings.Builder
}

func (p *printed) Write(b []byte) (int, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.text.Write(b)
}

func (p *printed) String() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.text.String()
}
