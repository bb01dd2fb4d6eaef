package main

import (
	"os"
	"strconv"
)

// The width of text for a terminal whose own isn't known, and the most that is used of a wide one: longer lines than that
// are hard to follow with the eye.
const (
	usualColumns = 100
	mostColumns  = 120
)

// columns is how wide text may become, in characters: as the variable COLUMNS says, else as the terminal says; 0, for lines
// as long as they come, where the output goes to a file or another program.
func columns(terminal bool) int {
	if n, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && n >= 20 {
		return n
	}
	if !terminal {
		return 0
	}
	if n := terminalColumns(os.Stdout); n >= 20 {
		return min(n, mostColumns)
	}
	return usualColumns
}
