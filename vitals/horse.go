package vitals

import (
	"slices"
	"time"
)

// ID names a horse or an exam: 1 to 64 letters, digits, '-', '_' or '.', made by the caller.
type ID string

// Type is the kind of equid, as far as published figures tell kinds apart.
type Type string

const (
	TypeHorse  Type = "horse"
	TypePony   Type = "pony"
	TypeDraft  Type = "draft"
	TypeDonkey Type = "donkey"
	TypeMule   Type = "mule" // mule or hinny
)

// Types lists every type, in the order of a form.
func Types() []Type { return slices.Clone(allTypes) }

var allTypes = []Type{TypeHorse, TypePony, TypeDraft, TypeDonkey, TypeMule}

// Sex is used for wording and for pregnancy only; no figure depends on it.
type Sex string

const (
	Mare     Sex = "mare"
	Gelding  Sex = "gelding"
	Stallion Sex = "stallion"
)

// Sexes lists every sex.
func Sexes() []Sex { return slices.Clone(allSexes) }

var allSexes = []Sex{Mare, Gelding, Stallion}

// Stage is the stage of life, which published ranges depend on.
type Stage string

const (
	Newborn    Stage = "newborn"      // the first 24 hours
	Neonate    Stage = "neonate"      // to 7 days
	Foal       Stage = "foal"         // to 6 months
	Weanling   Stage = "weanling"     // 6 to 12 months
	Yearling   Stage = "yearling"     // 1 to 2 years
	TwoYearOld Stage = "two-year-old" // 2 to 3 years
	Adult      Stage = "adult"        // 3 to 20 years, or age unknown
	Senior     Stage = "senior"       // from 20 years
)

// Stages lists every stage, youngest first.
func Stages() []Stage { return slices.Clone(allStages) }

var allStages = []Stage{Newborn, Neonate, Foal, Weanling, Yearling, TwoYearOld, Adult, Senior}

// Horse is one animal: horse, pony, donkey or mule.
type Horse struct {
	ID   ID     `json:"id"`
	Name string `json:"name"`
	Type Type   `json:"type"`
	Sex  Sex    `json:"sex,omitempty"`
	// Born is the date of birth; a horse of unknown age counts as adult.
	// A year alone is written as its first of January with BornYearOnly.
	Born         Date `json:"born,omitzero"`
	BornYearOnly bool `json:"bornYearOnly,omitempty"`
	// Breed, Markings and Notes are free text.
	Breed    string `json:"breed,omitempty"`
	Markings string `json:"markings,omitempty"`
	Notes    string `json:"notes,omitempty"`
	// InFoal is a pregnancy known at the time of writing.
	InFoal bool `json:"inFoal,omitempty"`
	// Due is when a mare in foal is expected to foal.
	Due Date `json:"due,omitzero"`
	// Handling is what whoever comes near must know: temperament, what it does not bear. Insured and Referral, whether it may be taken to
	// a clinic, are asked before the night on which they matter.
	Handling string `json:"handling,omitempty"`
	Insured  Reply  `json:"insured,omitempty"`
	Referral Reply  `json:"referral,omitempty"`
	// BornAt is the moment of birth, where it is known: the clock of a newborn's first hours.
	// One that does not lie within a day of Born does not count for the age.
	BornAt time.Time `json:"bornAt,omitzero"`
	// FoaledAt is when this mare last foaled, where it is known.
	FoaledAt time.Time `json:"foaledAt,omitzero"`
	// Stands says where the horse stands and how to reach it.
	Stands string `json:"stands,omitempty"`
	// Contacts are whom to ring and who rings, in order.
	Contacts []Contact `json:"contacts,omitempty"`
	// NewUsual are the answers to "is this the new usual?", in the order in which they were given.
	NewUsual []NewUsual `json:"newUsual,omitempty"`
	// Unknown is what a newer version wrote that this one does not understand.
	Unknown []Unknown `json:"unknown,omitempty"`
}

// Contact is a person or practice with a telephone number.
type Contact struct {
	Name  string `json:"name"`
	Phone string `json:"phone,omitempty"`
	// Role is free text: owner, barn manager, clinic.
	Role string `json:"role,omitempty"`
}

// StageAt gives the stage of life at a time. Age unknown gives Adult, with known false; so does a
// time that cannot be right (see [Horse.DateDoubt]).
// The limits are those of the constants' comments: first week, six and twelve months,
// two and three years are the trade's words (common practice, no source); 20 years for
// senior is assumed, since no vital sign has a published range of its own there.
func (h Horse) StageAt(t time.Time) (stage Stage, known bool) {
	if h.Born.IsZero() || h.DateDoubt(t) != DateSound {
		return Adult, false
	}
	born, exact := h.birth(t.Location())
	if h.BornYearOnly && !exact {
		// Mid-year halves the largest error of a year alone.
		born = born.AddDate(0, 6, 0)
	}
	switch {
	case t.Before(born.Add(24 * time.Hour)):
		return Newborn, true
	case t.Before(born.AddDate(0, 0, 7)):
		return Neonate, true
	case t.Before(born.AddDate(0, 6, 0)):
		return Foal, true
	case t.Before(born.AddDate(1, 0, 0)):
		return Weanling, true
	case t.Before(born.AddDate(2, 0, 0)):
		return Yearling, true
	case t.Before(born.AddDate(3, 0, 0)):
		return TwoYearOld, true
	case t.Before(born.AddDate(20, 0, 0)):
		return Adult, true
	}
	return Senior, true
}

// birth gives the moment of birth, or the beginning of its day; exact says that it is the moment. The day of birth is a day
// where the horse was; the moment may be written in another zone.
func (h Horse) birth(at *time.Location) (born time.Time, exact bool) {
	if day := h.Born.In(h.BornAt.Location()); !h.BornYearOnly && !h.BornAt.Before(day.AddDate(0, 0, -1)) && !h.BornAt.After(day.AddDate(0, 0, 2)) {
		return h.BornAt, true
	}
	return h.Born.In(at), false
}

// Age gives how old a horse is by the moment of its birth, where that is known.
func (h Horse) Age(t time.Time) (age time.Duration, known bool) {
	born, exact := h.birth(t.Location())
	return t.Sub(born), exact && !h.Born.IsZero() && !t.Before(born) && h.DateDoubt(t) == DateSound
}

// DateDoubt is why the date of an exam, or that of the birth, cannot be right. Such a date is
// warned of and silences nothing: the rules hold, and the age counts as unknown.
type DateDoubt string

const (
	DateSound       DateDoubt = ""
	DateBeforeBirth DateDoubt = "before-birth" // more than a day, which covers the zones, before the birth
	DateFar         DateDoubt = "far-date"     // no year of our time, or more than mostYears after the birth
)

// mostYears is older than any horse is known to have become (assumed).
const mostYears = 65

// DateDoubt gives what is wrong with a time as that of an exam.
func (h Horse) DateDoubt(t time.Time) DateDoubt {
	dated := !h.Born.IsZero()
	switch {
	case dated && t.AddDate(0, 0, 1).Before(h.Born.In(t.Location())):
		return DateBeforeBirth
	case !realYear(t), dated && h.Born.In(t.Location()).AddDate(mostYears, 0, 0).Before(t):
		return DateFar
	}
	return DateSound
}

// broodmare reports whether the signs of foaling are asked.
func (h Horse) broodmare(t time.Time) bool {
	return h.InFoal || !h.FoaledAt.IsZero() && t.Sub(h.FoaledAt) < BroodDays*24*time.Hour && !t.Before(h.FoaledAt.Add(-time.Hour))
}

// nursing reports whether a foal of hers may still be sucking: under six months, the stage [Foal].
func (h Horse) nursing(t time.Time) bool {
	return !h.FoaledAt.IsZero() && t.Before(h.FoaledAt.AddDate(0, 6, 0))
}

// Group is a set of animals that a figure is for. An empty list means every one.
type Group struct {
	Types  []Type  `json:"types,omitempty"`
	Stages []Stage `json:"stages,omitempty"`
}

// Holds reports whether an animal of type t at stage s belongs to the group.
func (g Group) Holds(t Type, s Stage) bool {
	return in(g.Types, t) && in(g.Stages, s)
}

func in[T comparable](list []T, x T) bool {
	if len(list) == 0 {
		return true
	}
	for _, y := range list {
		if x == y {
			return true
		}
	}
	return false
}

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
