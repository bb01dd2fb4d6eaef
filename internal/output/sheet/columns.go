package sheet

import (
	"math"
	"slices"
	"strings"
)

// shareOut gives each column what it would like if all fits. Otherwise the width goes to the columns in proportion to what they
// hold, so that they come out about equally tall, but to none less than its longest word. Where not even the longest words
// fit, the widest columns give way.
func shareOut(least, most []float64, width float64) []float64 {
	sumLeast, sumMost := 0.0, 0.0
	for n := range least {
		sumLeast, sumMost = sumLeast+least[n], sumMost+most[n]
	}
	out := make([]float64, len(least))
	switch {
	case sumMost <= width:
		for n := range out {
			// loosen a narrow table a little, but don't tear its columns apart
			out[n] = most[n] + min((width-sumMost)/float64(len(out)), 10)
		}
	case sumLeast >= width:
		highest := ceiling(least, width)
		for n := range out {
			out[n] = min(least[n], highest)
		}
	default:
		low, high := 0.0, 1.0 // the share of what a column holds
		for range 40 {
			share, sum := (low+high)/2, 0.0
			for n := range out {
				sum += max(least[n], share*most[n])
			}
			if sum > width {
				high = share
			} else {
				low = share
			}
		}
		for n := range out {
			out[n] = max(least[n], low*most[n])
		}
	}
	return out
}

// ceiling returns the width at which columns must be cut off for their sum to fit.
func ceiling(widths []float64, room float64) float64 {
	sorted := slices.Sorted(slices.Values(widths))
	for n, w := range sorted {
		if share := room / float64(len(sorted)-n); w > share {
			return share
		}
		room -= w
	}
	return math.Inf(1)
}

// columnTexts holds the widths of the words in each cell of a table, to try out widths of columns.
type columnTexts struct {
	rows  [][]cellWords
	words int
}

// cellWords is the widths of a cell's words, and of a space between them.
type cellWords struct {
	widths []float64
	space  float64
}

// add enters the text of a cell, as the function measures it.
func (c *columnTexts) add(row, column int, text string, measure func(string) float64) {
	for len(c.rows) <= row {
		c.rows = append(c.rows, nil)
	}
	for len(c.rows[row]) <= column {
		c.rows[row] = append(c.rows[row], cellWords{})
	}
	cell := cellWords{space: measure(" ")}
	for _, w := range figureWords(text) {
		for part := range strings.SplitAfterSeq(w, "-") {
			cell.widths = append(cell.widths, measure(part))
			c.words++
		}
	}
	c.rows[row][column] = cell
}

// lines returns how many lines the cell makes at the width.
func (c cellWords) lines(width float64) int {
	count, x := 1, 0.0
	for _, w := range c.widths {
		if x > 0 && x+c.space+w > width+1e-9 {
			count, x = count+1, 0
		}
		if x > 0 {
			x += c.space
		}
		x += w
	}
	return count
}

// evened returns the widths that the columns of a large table with very long cells would like: not that of their widest cell, which may be one of a
// hundred, but twice that of their middling one, so that no single cell takes the room from the others.
func (c *columnTexts) evened(least, most []float64, width float64) []float64 {
	sum := 0.0
	for _, m := range most {
		sum += m
	}
	if c.words <= enough || sum <= 3*width {
		return most
	}
	out := make([]float64, len(most))
	sum = 0
	for n := range most {
		total := 0.0
		for _, row := range c.rows {
			if n < len(row) {
				for _, w := range row[n].widths {
					total += w + row[n].space
				}
			}
		}
		out[n] = most[n]
		if most[n] > width/float64(len(most)) { // a narrow column isn't in anybody's way
			out[n] = max(least[n], min(most[n], 2*total/float64(len(c.rows))))
		}
		sum += out[n]
	}
	if sum < width { // all of the room is theirs
		for n := range out {
			out[n] *= width / sum
		}
	}
	return out
}

// enough is how many words a table may have for its columns to be tried out one against another.
const enough = 600

// settle moves width from column to column, a step at a time, as long as that makes the table less tall, and returns the
// widths. Large tables are left as they are: the search takes time with the number of words.
func (c *columnTexts) settle(widths, least []float64, step float64) []float64 {
	if c.words > enough {
		return widths
	}
	// lines of each cell at the present widths, and the height of each row
	tall := func(widths []float64) int {
		sum := 0
		for _, row := range c.rows {
			most := 0
			for n, cell := range row {
				most = max(most, cell.lines(widths[n]))
			}
			sum += most
		}
		return sum
	}
	now := tall(widths)
	for range 40 {
		best, from, to, by := now, -1, -1, 0.0
		for a := range widths {
			for b := range widths {
				for _, move := range []float64{step, 3 * step} {
					if a == b || widths[a]-move < least[a] {
						continue
					}
					widths[a], widths[b] = widths[a]-move, widths[b]+move
					if h := tall(widths); h < best {
						best, from, to, by = h, a, b, move
					}
					widths[a], widths[b] = widths[a]+move, widths[b]-move
				}
			}
		}
		if from < 0 {
			break
		}
		widths[from], widths[to], now = widths[from]-by, widths[to]+by, best
	}
	return widths
}
