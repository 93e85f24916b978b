package export

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"
)

// A Table is a list with a heading for each column.
type Table struct {
	Head []string
	Rows [][]string
}

// byteOrderMark tells spreadsheets that a file is UTF-8 (The Unicode Standard, 23.8, "Specials").
const byteOrderMark = "\uFEFF"

// WriteCSV writes a table as RFC 4180 has it: commas, quotes where needed, lines ended by CR LF, UTF-8 with a byte order mark.
// A cell that a spreadsheet would take for a formula gets an apostrophe before it, and a multiplication sign is written as the
// letter x, which every typeface and code page has.
func WriteCSV(w io.Writer, t Table) error {
	if _, err := io.WriteString(w, byteOrderMark); err != nil {
		return err
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true
	write := func(row []string) error {
		safe := make([]string, len(row))
		for i, cell := range row {
			safe[i] = noFormula(strings.ReplaceAll(cell, "×", "x"))
		}
		return out.Write(safe)
	}
	if len(t.Head) > 0 {
		if err := write(t.Head); err != nil {
			return err
		}
	}
	for _, row := range t.Rows {
		if err := write(row); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func noFormula(cell string) string {
	if cell == "" {
		return cell
	}
	switch cell[0] {
	case '=', '@', '\t', '\r':
		return "'" + cell
	case '+', '-':
		if _, err := strconv.ParseFloat(cell, 64); err != nil && len(cell) > 1 {
			return "'" + cell
		}
	}
	return cell
}
