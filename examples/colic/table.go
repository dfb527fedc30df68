package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
)

// outcome is column 23 of the table.
type outcome int

const (
	unknown    outcome = 0 // two rows lack it
	lived      outcome = 1
	died       outcome = 2
	euthanised outcome = 3
)

// row is one visit: what of the table a handler could have seen, and how it ended. A code
// of 0 and a nil decimal are '?' in the table: not recorded.
type row struct {
	line     int
	hospital string // not unique: some horses came twice
	young    bool   // under six months

	temperature *decimal.Decimal // rectal, degrees Celsius
	pulse       *decimal.Decimal // a minute
	breathing   *decimal.Decimal // a minute

	extremities, pulseQuality, gums, refill, peristalsis int

	outcome outcome
}

const columns = 28

// code is a column with a closed list of numbers. Codes that the description lacks but the
// table has are among extra: they are read, and mean "not recorded".
type code struct {
	column int // from 1, as in the description
	name   string
	most   int
	extra  int
}

// readTable reads the table of McLeish and Cecile. The error holds every line that does not fit.
func readTable(in io.Reader) ([]row, error) {
	var rows []row
	var wrong []error
	lines := bufio.NewScanner(in)
	for n := 1; lines.Scan(); n++ {
		fields := strings.Fields(lines.Text())
		if len(fields) == 0 {
			continue
		}
		if len(fields) != columns {
			wrong = append(wrong, fmt.Errorf("line %d: %d columns, not %d", n, len(fields), columns))
			continue
		}
		r, errs := readRow(n, fields)
		wrong = append(wrong, errs...)
		rows = append(rows, r)
	}
	if err := lines.Err(); err != nil {
		wrong = append(wrong, err)
	}
	if len(rows) == 0 && len(wrong) == 0 {
		wrong = append(wrong, errors.New("no row"))
	}
	return rows, errors.Join(wrong...)
}

func readRow(line int, fields []string) (r row, wrong []error) {
	r = row{line: line, hospital: fields[2]}
	number := func(column int, name string) *decimal.Decimal {
		text := fields[column-1]
		if text == "?" {
			return nil
		}
		d, err := decimal.NewFromString(text)
		if err != nil {
			wrong = append(wrong, fmt.Errorf("line %d, column %d (%s): %q is no number", line, column, name, text))
			return nil
		}
		return &d
	}
	coded := func(c code) int {
		text := fields[c.column-1]
		if text == "?" {
			return 0
		}
		n, err := strconv.Atoi(text)
		switch {
		case err == nil && n >= 1 && n <= c.most:
			return n
		case err == nil && n != 0 && n == c.extra:
			return n
		}
		wrong = append(wrong, fmt.Errorf("line %d, column %d (%s): %q is no code of the table", line, c.column, c.name, text))
		return 0
	}
	// The description says 2 for young; the table says 9.
	r.young = coded(code{2, "age", 2, 9}) >= 2
	r.temperature = number(4, "rectal temperature")
	r.pulse = number(5, "pulse")
	r.breathing = number(6, "respiratory rate")
	r.extremities = coded(code{column: 7, name: "temperature of extremities", most: 4})
	r.pulseQuality = coded(code{column: 8, name: "peripheral pulse", most: 4})
	r.gums = coded(code{column: 9, name: "mucous membranes", most: 6})
	// Two rows hold a 3, which the description does not explain.
	if r.refill = coded(code{10, "capillary refill time", 2, 3}); r.refill == 3 {
		r.refill = 0
	}
	r.peristalsis = coded(code{column: 12, name: "peristalsis", most: 4})
	r.outcome = outcome(coded(code{column: 23, name: "outcome", most: 3}))
	return r, wrong
}
