package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/http"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"time"

	"drivewright/examples"
	"drivewright/internal/base/explain"
	"drivewright/internal/input/job"
	"drivewright/internal/output/sheet"
	"drivewright/internal/plan"
	"drivewright/internal/web"
)

type serveCommand struct {
	Folder string    `arg:"" optional:"" help:"Folder with job files; this one if it holds any, else drivewright in your home."`
	Port   int       `help:"Port on this computer; phones come in by the next one." default:"8377"`
	NoOpen bool      `help:"Don't open the browser."`
	Phone  phoneFlag `help:"Let a phone of the shop's network take the readings, and nothing else; --phone=ADDRESS where this computer has several."`
}

// Run serves the live sheet on loopback until interrupted, and the readings to phones if that is asked for.
func (c serveCommand) Run(b *bench) error {
	if c.Port < 0 || c.Port > 65534 {
		return usage("--port is from 0 to 65534")
	}
	folder, err := jobFolder(c.Folder, b)
	if err != nil {
		return err
	}
	if err := copyExamples(folder, b.out); err != nil {
		return err
	}
	store, err := openStore(folder, b.now)
	if err != nil {
		return usage("%w", err)
	}
	var phones net.Listener
	var phone *web.Phone
	if c.Phone.on {
		if phones, phone, err = openForPhones(c.Phone, c.Port); err != nil {
			return err
		}
		defer phones.Close()
	}
	handler, forPhones, err := web.NewWithPhone(web.Options{
		Store: store,
		Build: func(p plan.Plan, v web.View) sheet.Document {
			return sheet.Build(p, sheet.Options{Units: v.Units, Proving: v.Proving, Arranging: v.Arranging, Version: b.version, Date: modified(filepath.Join(folder, p.File().Name))})
		},
		Starter: func(title string) (string, []byte) {
			return jobFileName(title), job.Starter(map[string]string{"drivewright": "1", "rules": "us", "machine.name": title})
		},
		Downloads: downloads(),
		Version:   b.version,
		Phone:     phone,
	})
	if err != nil {
		return err
	}
	listener, taken, err := listen(c.Port)
	if err != nil {
		return usage("%w", err)
	}
	if taken {
		fmt.Fprintf(b.out, "another program has port %d, perhaps drivewright itself in another window (http://127.0.0.1:%d/): a free port is taken\n", c.Port, c.Port)
	}
	address := "http://" + listener.Addr().String() + "/"
	fmt.Fprintf(b.out, "the jobs of %s are on %s (Ctrl-C ends it)\n", folder, address)
	if !c.NoOpen {
		openBrowser(address)
	}
	server := &http.Server{Handler: handler, ReadHeaderTimeout: 10 * time.Second}
	ended := make(chan error, 2)
	go func() { ended <- server.Serve(listener) }()
	if phone != nil {
		if err := showPhone(b.out, *phone, b.colour); err != nil {
			return err
		}
		second := phoneServer(forPhones)
		defer second.Close() // at once: what wasn't answered is sent again
		go func() { ended <- second.Serve(phones) }()
	}
	select {
	case err := <-ended:
		return err
	case <-b.interrupted():
	}
	deadline, cancel := context.WithTimeout(context.Background(), 2*time.Second)
	defer cancel()
	if err := server.Shutdown(deadline); err != nil && !errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	return server.Close() // listeners of changes never end by themselves
}

// downloads are the forms in which the live sheet can be taken along.
func downloads() []web.Download {
	return []web.Download{
		{Label: "PDF", Ending: "pdf", Type: "application/pdf", Write: sheet.WritePDF},
		{Label: "web page", Ending: "html", Type: "text/html; charset=utf-8", Write: sheet.WriteHTML},
		{Label: "text", Ending: "txt", Type: "text/plain; charset=utf-8", Write: func(w io.Writer, d sheet.Document) error { return sheet.WriteText(w, d, 80, false) }},
		{Label: "JSON", Ending: "json", Type: "application/json", Write: sheet.WriteJSON},
	}
}

// jobFolder is the folder that is asked for, else this one if it holds job files, else drivewright in the user's home,
// which is made if need be.
func jobFolder(asked string, b *bench) (string, error) {
	if asked != "" {
		info, err := os.Stat(asked)
		switch {
		case err != nil:
			return "", usage("there is no folder %s", asked)
		case !info.IsDir():
			return "", usage("%s is a file: drivewright sheet %s prints its sheet; for the live sheet give the folder that it is in, drivewright serve %s", asked, asked, filepath.Dir(asked))
		}
		return asked, nil
	}
	if here, err := filepath.Glob("*" + jobEnding); err == nil && len(here) > 0 {
		return ".", nil
	}
	home, err := b.home()
	if err != nil {
		return "", usage("no home folder is known: give a folder")
	}
	folder := filepath.Join(home, "drivewright")
	return folder, os.MkdirAll(folder, 0o755)
}

// copyExamples puts the example jobs into a folder that holds nothing: among somebody's other files they would be in the way.
func copyExamples(folder string, out io.Writer) error {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return usage("%w", err)
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") {
			return nil
		}
	}
	names, err := fs.Glob(examples.Files, "*"+jobEnding)
	if err != nil {
		return err
	}
	for _, name := range names {
		text, err := fs.ReadFile(examples.Files, name)
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(folder, name), text, 0o644); err != nil {
			return usage("%w", err)
		}
	}
	fmt.Fprintf(out, "there was nothing in %s: %d examples were put there\n", folder, len(names))
	return nil
}

// jobFileName is the name of the job file of a machine.
func jobFileName(title string) string {
	name := explain.Slug(title)
	if name == "" {
		name = "machine"
	}
	return name + jobEnding
}

// listen opens the port on loopback; when another program has it, any free one.
func listen(port int) (listener net.Listener, taken bool, err error) {
	listener, err = net.Listen("tcp", fmt.Sprintf("127.0.0.1:%d", port))
	if inUse(err) {
		listener, err = net.Listen("tcp", "127.0.0.1:0")
		return listener, true, err
	}
	return listener, false, err
}

// openBrowser shows the address in the user's browser where there is one; the address has been printed anyway.
func openBrowser(address string) {
	command := map[string][]string{"darwin": {"open"}, "windows": {"rundll32", "url.dll,FileProtocolHandler"}}[runtime.GOOS]
	if command == nil {
		if os.Getenv("DISPLAY") == "" && os.Getenv("WAYLAND_DISPLAY") == "" {
			return
		}
		command = []string{"xdg-open"}
	}
	command = append(command, address)
	_ = exec.Command(command[0], command[1:]...).Start() // no browser: the printed address stands
}

// onInterrupt returns a channel that is closed when the user interrupts the program.
func onInterrupt() <-chan struct{} {
	context, _ := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	return context.Done()
}
