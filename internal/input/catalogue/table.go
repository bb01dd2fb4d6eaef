// Package catalogue holds tables of figures and typical parts: data files with their source in them, and typed look-ups.
//
// It sizes nothing: which figure applies to what is the trades' business. Each figure comes with the cell it was read
// from. A typical part has no maker; it stands in until the user enters the data sheet's figures. Begin with table (how
// a data file is read), then the file of the subject, such as motor_current.go.
package catalogue

import (
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"drivewright/internal/base/explain"
)

// table is a data file as read. The file begins with comment lines that say where the figures are from,
//
//	# work: NFPA 70
//	# edition: 2023
//	# place: Table 430.250
//	# what: what the figures are, and their unit
//	# note: whatever else the reader of the file must know
//
// then a line of column names, then rows. A column "trust" says of each row whether it was read in the work or a reprint of it
// (found) or recalled (memory, practice, typical); it is kept with every figure taken from the row. Empty cells are no figures.
type table struct {
	source  explain.Source
	columns []string
	rows    [][]string
}

// readTable reads a data file. An error names the file's own mistake; the package's tests read every file, so that none
// is met later.
func readTable(text string) (table, error) {
	var t table
	body := text
	for strings.HasPrefix(body, "#") {
		line, rest, _ := strings.Cut(body, "\n")
		body = rest
		word, value, _ := strings.Cut(strings.TrimSpace(strings.TrimPrefix(line, "#")), ":")
		value = strings.TrimSpace(value)
		switch word {
		case "work":
			t.source.Work = value
		case "edition":
			t.source.Edition = value
		case "place":
			t.source.Place = value
		case "note", "what":
		default:
			return t, fmt.Errorf("unknown header word %q", word)
		}
	}
	if t.source.Work == "" {
		return t, fmt.Errorf("the header doesn't say which work the figures are from")
	}
	records, err := csv.NewReader(strings.NewReader(body)).ReadAll()
	if err != nil {
		return t, err
	}
	if len(records) < 2 {
		return t, fmt.Errorf("no rows")
	}
	t.columns, t.rows = records[0], records[1:]
	return t, nil
}

// column returns the index of the named column, -1 if there is none.
func (t table) column(name string) int { return slices.Index(t.columns, name) }

// text returns the cell's words; "" where row or column doesn't exist.
func (t table) text(row int, column string) string {
	c := t.column(column)
	if c < 0 || row < 0 || row >= len(t.rows) {
		return ""
	}
	return strings.TrimSpace(t.rows[row][c])
}

// number returns the cell's number, and false where the cell is empty or holds none.
func (t table) number(row int, column string) (float64, bool) {
	n, err := strconv.ParseFloat(t.text(row, column), 64)
	return n, err == nil
}

// figure is number for a column that has a number in every row; zero where there is none.
func (t table) figure(row int, column string) float64 {
	n, _ := t.number(row, column)
	return n
}

// sourceOf returns the source of a row: the file's, with the row's own degree of trust and the cell's name behind the place.
func (t table) sourceOf(row int, cell string) explain.Source {
	s := t.source
	switch t.text(row, "trust") {
	case "memory":
		s.Trust = explain.FromMemory
	case "practice", "typical":
		s.Trust = explain.CommonPractice
	case "computed":
		s.Trust = explain.Arithmetic
	}
	if cell != "" {
		s.Place = strings.TrimPrefix(s.Place+", "+cell, ", ")
	}
	return s
}

// dataFile reads an embedded data file. A file that doesn't read gives an empty table; the package's tests read every file.
func dataFile(text string) table {
	t, err := readTable(text)
	if err != nil {
		return table{}
	}
	return t
}

// eachRow reads the rows of an embedded data file, in its order.
func eachRow[R any](text string, read func(t table, row int) R) []R {
	t := dataFile(text)
	var list []R
	for row := range t.rows {
		list = append(list, read(t, row))
	}
	return list
}
