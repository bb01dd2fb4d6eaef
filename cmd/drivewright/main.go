// Command drivewright works out, from one plain job file, how to put an old three-phase machine back to work on a
// single-phase supply, and prints it as one sheet. It holds the only flags, exit codes, file reading and saving.
package main

import "os"

func main() {
	os.Exit(run(os.Args[1:], theMachine()))
}
