package main

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/netip"
	"slices"
	"strings"
	"syscall"
	"time"

	"github.com/alecthomas/kong"

	"drivewright/internal/web"
)

// phoneFlag is --phone, or --phone=ADDRESS on a computer with several.
type phoneFlag struct {
	on      bool
	address string
}

// IsBool says that the flag stands without a value too.
func (phoneFlag) IsBool() bool { return true }

// Decode reads what was given.
func (f *phoneFlag) Decode(c *kong.DecodeContext) error {
	f.on = true
	if c.Scan.Peek().Type == kong.FlagValueToken {
		f.address = fmt.Sprint(c.Scan.Pop().Value)
		if f.address == "" {
			return errors.New("an address of this computer is expected after --phone=")
		}
	}
	return nil
}

// phoneAddress is the address of this computer at which phones come in: the one that was asked for, else the only one that it
// has on a private network (RFC 1918; fc00::/7 of RFC 4193). With one of version 4, those of version 6 are left aside.
func phoneAddress(asked string, own []netip.Addr) (netip.Addr, error) {
	var private, four []netip.Addr
	for _, a := range own {
		a = a.Unmap()
		if !a.IsPrivate() || slices.Contains(private, a) {
			continue
		}
		private = append(private, a)
		if a.Is4() {
			four = append(four, a)
		}
	}
	if asked != "" {
		a, err := netip.ParseAddr(asked)
		a = a.Unmap()
		switch {
		case err != nil:
			return a, usage("--phone=%s: that is no address; one looks like 192.168.1.7", asked)
		case !a.IsPrivate() || a.Zone() != "":
			return a, usage("--phone=%s: that is no address of a private network (10., 172.16. to 172.31., 192.168. or fc00::/7), and phones are let in from no other", asked)
		case !slices.Contains(private, a):
			return a, usage("--phone=%s: this computer has no such address%s", asked, list(private))
		}
		return a, nil
	}
	switch {
	case len(private) == 1:
		return private[0], nil
	case len(four) == 1:
		return four[0], nil
	case len(private) == 0:
		return netip.Addr{}, usage("--phone: this computer has no address of a private network (10., 172.16. to 172.31., 192.168. or fc00::/7): join it to the shop's network")
	}
	return netip.Addr{}, usage("--phone: this computer has several addresses: choose the one of the phone's network, --phone=%s%s", private[0], list(private))
}

// list says which addresses there are to choose from.
func list(private []netip.Addr) string {
	if len(private) == 0 {
		return ""
	}
	var words []string
	for _, a := range private {
		words = append(words, a.String())
	}
	return " (there is " + strings.Join(words, ", ") + ")"
}

// networkAddresses are this computer's addresses on networks that are up, apart from loopback.
func networkAddresses() ([]netip.Addr, error) {
	interfaces, err := net.Interfaces()
	if err != nil {
		return nil, err
	}
	var own []netip.Addr
	for _, i := range interfaces {
		if i.Flags&net.FlagUp == 0 || i.Flags&net.FlagLoopback != 0 {
			continue
		}
		addresses, err := i.Addrs()
		if err != nil {
			continue // it went away meanwhile
		}
		for _, a := range addresses {
			if prefix, err := netip.ParsePrefix(a.String()); err == nil {
				own = append(own, prefix.Addr())
			}
		}
	}
	return own, nil
}

// openForPhones opens the listener for phones, on the port after the live sheet's. It takes no other when that one is taken:
// what a phone keeps, it keeps for the address and port.
func openForPhones(f phoneFlag, port int) (net.Listener, *web.Phone, error) {
	own, err := networkAddresses()
	if err != nil {
		return nil, nil, usage("--phone: %w", err)
	}
	address, err := phoneAddress(f.address, own)
	if err != nil {
		return nil, nil, err
	}
	if port != 0 {
		port++
	}
	listener, err := net.Listen("tcp", netip.AddrPortFrom(address, uint16(port)).String())
	switch {
	case inUse(err):
		return nil, nil, usage("--phone: another program has port %d, perhaps drivewright itself in another window: end it, or choose with --port", port)
	case err != nil:
		return nil, nil, usage("--phone: %w", err)
	}
	// rand.Text has at least 128 random bits; small letters are typed more easily.
	return listener, &web.Phone{Address: listener.Addr().String(), Secret: strings.ToLower(rand.Text())}, nil
}

// inUse reports whether another program has the port.
func inUse(err error) bool {
	const onWindows = syscall.Errno(10048) // WSAEADDRINUSE, which the package's EADDRINUSE doesn't stand for
	return err != nil && (errors.Is(err, syscall.EADDRINUSE) || errors.Is(err, onWindows))
}

// showPhone prints the way to the phone, and the caution that goes with it.
func showPhone(out io.Writer, p web.Phone, colour bool) error {
	code, err := web.NewCode(p.URL())
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "\n%s\nthe readings on a phone of the same network: %s\n", code.Terminal(colour), p.URL())
	fmt.Fprintln(out, "caution: anyone on this network who sees this address can write readings; it is plain HTTP, which others on the network can listen to. Ctrl-C ends it, and the address with it")
	return nil
}

// phoneServer serves phones; what comes in slowly or lies idle is cut.
func phoneServer(handler http.Handler) *http.Server {
	return &http.Server{Handler: handler, ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 20 * time.Second, WriteTimeout: 30 * time.Second, IdleTimeout: time.Minute, MaxHeaderBytes: 16 << 10}
}
