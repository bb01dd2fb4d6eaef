//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package main

import (
	"os"
	"syscall"
	"unsafe"
)

// terminalColumns asks the terminal how wide it is; 0 if it doesn't say.
func terminalColumns(f *os.File) int {
	var size struct{ rows, columns, x, y uint16 } // the struct winsize of the system call
	_, _, failed := syscall.Syscall(syscall.SYS_IOCTL, f.Fd(), syscall.TIOCGWINSZ, uintptr(unsafe.Pointer(&size)))
	if failed != 0 {
		return 0
	}
	return int(size.columns)
}
