package schema

import (
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"whorl.example/vitals"
)

// maxDigits is the number of digits of a decimal. No reading has so many; all of them fit
// an int64 and a float64's 15.
const maxDigits = 15

// parseDecimal reads a number as an instrument shows it:
//
//	[ "-" ] digits [ "." digits ]
//
// with at most 15 digits, and no 0 before another digit of the whole part. The places are
// kept: "38.40" has two. It is a JSON string and never a JSON number, because most JSON
// readers turn the number 38.40 into 38.4, and the instrument's resolution is lost.
func parseDecimal(s string) (decimal.Decimal, bool) {
	digits, negative := strings.CutPrefix(s, "-")
	whole, places, point := strings.Cut(digits, ".")
	if whole == "" || len(whole) > 1 && whole[0] == '0' || point && places == "" || len(whole)+len(places) > maxDigits {
		return decimal.Decimal{}, false
	}
	var n int64
	for _, part := range [2]string{whole, places} {
		for i := range len(part) {
			if part[i] < '0' || part[i] > '9' {
				return decimal.Decimal{}, false
			}
			n = n*10 + int64(part[i]-'0')
		}
	}
	if negative {
		n = -n
	}
	return decimal.New(n, -int32(len(places))), true
}

// decimalText writes a decimal with its places; ok is false for one that parseDecimal
// would not read.
func decimalText(d decimal.Decimal) (string, bool) {
	if d.Exponent() < -maxDigits || d.Exponent() > maxDigits {
		return "", false
	}
	s := d.StringFixed(max(0, -d.Exponent()))
	_, ok := parseDecimal(s)
	return s, ok
}

// parseTime reads an RFC 3339 date-time with whole seconds or thousandths and an offset
// of at most 14 hours, years 1900 to 2199.
func parseTime(s string) (time.Time, bool) {
	if !timeShape(s) {
		return time.Time{}, false
	}
	// ParseInLocation, since time.Parse gives the machine's own zone to an offset that
	// happens to agree with it: the same text would then mean different things on two phones.
	t, err := time.ParseInLocation(time.RFC3339, s, time.UTC)
	if err != nil || t.Year() < 1900 || t.Year() > 2199 {
		return time.Time{}, false
	}
	if _, offset := t.Zone(); offset < -14*3600 || offset > 14*3600 {
		return time.Time{}, false
	}
	return t, true
}

// timeShape checks the places of digits and signs, with which [time.Parse] is lenient.
func timeShape(s string) bool {
	if len(s) < len("2006-01-02T15:04:05Z") {
		return false
	}
	if !shaped(s[:19], "0000-00-00T00:00:00") {
		return false
	}
	rest := s[19:]
	if rest[0] == '.' {
		n := 1
		for n < len(rest) && rest[n] >= '0' && rest[n] <= '9' {
			n++
		}
		if n < 2 || n > 4 {
			return false
		}
		rest = rest[n:]
	}
	return rest == "Z" || (shaped(rest, "+00:00") || shaped(rest, "-00:00")) && rest[4] < '6' // an hour has no 60th minute
}

// shaped reports whether s is like shape, where 0 stands for any digit.
func shaped(s, shape string) bool {
	if len(s) != len(shape) {
		return false
	}
	for i := range len(s) {
		digit := s[i] >= '0' && s[i] <= '9'
		if shape[i] == '0' && !digit || shape[i] != '0' && s[i] != shape[i] {
			return false
		}
	}
	return true
}

// timeText writes a time to the millisecond; ok is false for one that parseTime would not
// read as the same moment.
func timeText(t time.Time) (string, bool) {
	t = t.Truncate(time.Millisecond)
	s := t.Format(time.RFC3339Nano)
	back, ok := parseTime(s)
	return s, ok && back.Equal(t)
}

// dateText writes a day; ok is false for one that the calendar or the format does not have.
func dateText(d vitals.Date) (string, bool) {
	s := d.String()
	back, ok := vitals.ParseDate(s)
	return s, ok && back == d
}
