package web

import "strings"

// line is one line that differs between two texts.
type line struct {
	Number int    `json:"line"` // in the later text; where a line is gone, where it would stand
	Was    string `json:"was"`
	Is     string `json:"is"`
}

// difference lists the lines that differ, a removed one paired with the one that stands in its place. Job files are short,
// so the longest common subsequence is found the plain way, in the product of the lengths between the first and the last
// difference.
func difference(before, after []byte) []line {
	a, b := strings.Split(string(before), "\n"), strings.Split(string(after), "\n")
	head := 0
	for head < len(a) && head < len(b) && a[head] == b[head] {
		head++
	}
	tail := 0
	for tail < len(a)-head && tail < len(b)-head && a[len(a)-1-tail] == b[len(b)-1-tail] {
		tail++
	}
	a, b = a[head:len(a)-tail], b[head:len(b)-tail]
	if len(a)*len(b) > 4_000_000 { // not a job file that a person wrote: say only that it differs
		return []line{{Number: head + 1, Was: "(a long text)", Is: "(another long text)"}}
	}
	common := make([][]int, len(a)+1)
	for i := range common {
		common[i] = make([]int, len(b)+1)
	}
	for i := len(a) - 1; i >= 0; i-- {
		for j := len(b) - 1; j >= 0; j-- {
			if a[i] == b[j] {
				common[i][j] = common[i+1][j+1] + 1
			} else {
				common[i][j] = max(common[i+1][j], common[i][j+1])
			}
		}
	}
	var lines []line
	var gone []string
	i, j := 0, 0
	flush := func() {
		for _, g := range gone {
			lines = append(lines, line{Number: head + j + 1, Was: g})
		}
		gone = nil
	}
	for i < len(a) || j < len(b) {
		switch {
		case i < len(a) && j < len(b) && a[i] == b[j]:
			flush()
			i++
			j++
		case i < len(a) && (j == len(b) || common[i+1][j] >= common[i][j+1]):
			gone = append(gone, a[i])
			i++
		default:
			l := line{Number: head + j + 1, Is: b[j]}
			if len(gone) > 0 {
				l.Was, gone = gone[0], gone[1:]
			}
			lines = append(lines, l)
			j++
		}
	}
	flush()
	return lines
}
