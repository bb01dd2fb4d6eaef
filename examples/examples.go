// Package examples holds the example jobs that come with the program: invented machines in invented shops.
package examples

import "embed"

// Files are the example job files.
//
//go:embed *.job.yaml
var Files embed.FS
