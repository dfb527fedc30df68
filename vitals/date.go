package vitals

import "time"

// Date is a day of the calendar without a time or a zone. The zero Date is "not known".
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// DateOf gives the day of t in t's own zone.
func DateOf(t time.Time) Date {
	y, m, d := t.Date()
	return Date{y, m, d}
}

// ParseDate reads YYYY-MM-DD (RFC 3339 full-date), years 1900 to 2199; ok is false for
// anything else and for a day that no calendar has.
func ParseDate(s string) (d Date, ok bool) {
	t, err := time.Parse("2006-01-02", s)
	if err != nil || t.Year() < 1900 || t.Year() > 2199 {
		return Date{}, false
	}
	return DateOf(t), true
}

// IsZero reports whether the date is not known.
func (d Date) IsZero() bool { return d == Date{} }

// In gives the first moment of the day in a zone.
func (d Date) In(zone *time.Location) time.Time {
	return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, zone)
}

// String gives YYYY-MM-DD, or "" for the zero Date.
func (d Date) String() string {
	if d.IsZero() {
		return ""
	}
	return d.In(time.UTC).Format("2006-01-02")
}

// MarshalText gives [Date.String], so that encoding/json writes a date as schema does.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what MarshalText gives; the error is [FaultBadDay].
func (d *Date) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*d = Date{}
		return nil
	}
	read, ok := ParseDate(string(text))
	if !ok {
		return newFault(FaultBadDay, "")
	}
	*d = read
	return nil
}
