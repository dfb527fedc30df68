// Package draw draws random horses and exams that are in order, for the tests of the ways
// in which they travel. The test gives the chance.
package draw

import (
	"slices"
	"strconv"
	"time"

	"github.com/shopspring/decimal"

	"whorl.example/vitals"
)

// Source draws; it gives a number from 0 to n-1.
type Source func(n int) int

func one[T any](s Source, list []T) T { return list[s(len(list))] }

func (s Source) chance(p float64) bool { return float64(s(1000)) < 1000*p }

// texts are what people and hostile people write.
var texts = []string{
	"Bramble", "left of the door", "=1+1", "+44 20 7946 0000", "-3 today", "@SUM(A1)", "\tindented", "two\nlines",
	`say "quiet"`, "a, b; c", "Für Elise – 5 °C", "馬房 12", "حصان", "<b>&amp;</b>", "e\u0301", "😀 fine", "' or 1=1",
	"line\nwith \"quotes\", commas\nand = signs", "\\n", "]]>", "%s %d {n}",
}

// Text draws a free text; one line has no line break in it.
func (s Source) Text(line bool) string {
	for {
		if t := one(s, texts); !line || len(t) > 0 && !containsControl(t) {
			return t
		}
	}
}

func containsControl(t string) bool {
	for _, r := range t {
		if r < ' ' {
			return true
		}
	}
	return false
}

func (s Source) id(prefix string) vitals.ID {
	return vitals.ID(prefix + strconv.FormatInt(int64(s(1<<60)), 36))
}

// Time draws a moment of the years 2024 to 2027 with an offset.
func (s Source) Time() time.Time {
	offset := one(s, []int{0, 0, 3600, 7200, -5 * 3600, 19800, -12600})
	t := time.Date(2024, 1, 1, 0, 0, s(3*365*24*3600), 0, time.UTC)
	return t.In(time.FixedZone("", offset))
}

// Horse draws a grown horse.
func (s Source) Horse() vitals.Horse {
	h := vitals.Horse{ID: s.id("h"), Name: s.Text(true), Type: one(s, vitals.Types())}
	if s.chance(.7) {
		h.Sex = one(s, vitals.Sexes())
		h.InFoal = h.Sex == vitals.Mare && s.chance(.2)
		if h.InFoal {
			h.Due = vitals.Date{Year: 2026 + s(2), Month: time.Month(1 + s(12)), Day: 1 + s(28)}
		}
	}
	if s.chance(.8) {
		h.Born = vitals.Date{Year: 2004 + s(16), Month: time.Month(1 + s(12)), Day: 1 + s(28)}
		if s.chance(.3) {
			h.Born.Month, h.Born.Day, h.BornYearOnly = 1, 1, true
		}
	}
	if !h.Born.IsZero() && !h.BornYearOnly && s.chance(.2) {
		h.BornAt = h.Born.In(time.UTC).Add(time.Duration(s(24*60)) * time.Minute)
	}
	if h.Sex == vitals.Mare && s.chance(.2) {
		h.FoaledAt = s.Time()
	}
	if s.chance(.3) {
		h.Handling, h.Insured, h.Referral = s.Text(true), one(s, []vitals.Reply{"", vitals.Yes, vitals.No}), one(s, []vitals.Reply{"", vitals.Yes, vitals.No})
	}
	if s.chance(.3) {
		h.Breed, h.Markings, h.Notes, h.Stands = s.Text(true), s.Text(false), s.Text(false), s.Text(false)
	}
	if s.chance(.3) {
		h.Contacts = []vitals.Contact{{Name: s.Text(true), Phone: "+44 20 7946 0123", Role: "owner"}}
	}
	for s.chance(.2) {
		u := vitals.NewUsual{Sign: one(s, []vitals.SignID{vitals.HeartRate, vitals.RectalTemperature}), From: s.Time(), Not: s.chance(.3), Back: s.chance(.3)}
		if u.Said = u.From.Add(time.Duration(s(1000)) * time.Hour); s.chance(.5) {
			u.By = s.Text(true)
		}
		h.NewUsual = append(h.NewUsual, u)
	}
	return h
}

// Exam draws an exam of the horse with findings of most signs, in order by [vitals.CheckExam].
func (s Source) Exam(h vitals.Horse) vitals.Exam {
	e := vitals.Exam{
		ID: s.id("e"), Horse: h.ID, At: s.Time(), Depth: one(s, vitals.Depths()), Purpose: one(s, vitals.Purposes()),
		State: vitals.State{Condition: one(s, vitals.Conditions())}, Status: one(s, vitals.Statuses()),
	}
	if e.State.Condition != vitals.AtRest {
		for _, c := range vitals.Conditions()[1+slices.Index(vitals.Conditions(), e.State.Condition):] {
			if s.chance(.3) {
				e.State.Also = append(e.State.Also, c)
			}
		}
	}
	if e.State.In(vitals.AfterWork) {
		e.State.SinceMinutes, e.State.Effort = s(90), one(s, vitals.Efforts())
	}
	if e.State.In(vitals.Medicated) {
		e.State.With = s.Text(false)
	}
	if s.chance(.8) {
		e.Wellness, e.Holder, e.By = one(s, vitals.Wellnesses()), one(s, vitals.Holders()), s.Text(true)
	}
	if s.chance(.3) {
		e.Air = &vitals.Air{
			Temperature: &vitals.Reading{Value: decimal.New(int64(s(400)-50), -1), Unit: vitals.Celsius},
			Humidity:    &vitals.Reading{Value: decimal.New(int64(s(101)), 0), Unit: vitals.Percent},
		}
	}
	if s.chance(.5) {
		e.Story = s.story(e.At)
	}
	if s.chance(.2) {
		e.Call = s.Call()
	}
	if s.chance(.2) {
		e.Asked = []vitals.ClinicQuestion{{By: s.Text(true), Text: s.Text(true), ID: "q1", Answer: s.Text(false)},
			{By: "A", Text: "Eaten?", Kind: vitals.YesNo, Answer: one(s, []string{"", "yes", "no"})},
			{By: "A", Text: "How many?", Kind: vitals.Number, Answer: one(s, []string{"", "0", "2.5"})}}
	}
	for _, sign := range vitals.Catalogue() {
		if !sign.Depth.Within(e.Depth) || s.chance(.25) {
			continue
		}
		if len(sign.Sites) == 0 {
			e.Findings = append(e.Findings, s.finding(sign, ""))
			continue
		}
		for _, site := range sign.Sites {
			if site.Depth.Within(e.Depth) && s.chance(.7) {
				e.Findings = append(e.Findings, s.finding(sign, site.ID))
			}
		}
	}
	return e
}

func (s Source) story(at time.Time) *vitals.Story {
	yes := s.chance(.5)
	return &vitals.Story{
		Noticed: s.Text(false), Since: at.Add(-time.Duration(s(3000)) * time.Minute), Course: one(s, vitals.Courses()),
		Bouts: &yes, Passed: s.Text(false), Given: []vitals.Given{{What: s.Text(true), Dose: "as told", At: at}},
		Ask: one(s, vitals.Asks()), Callback: "+44 20 7946 0999",
	}
}

// Call draws what is remembered of a call, of few moments and rules, so that two of them often meet.
func (s Source) Call() *vitals.Call {
	moment := func() time.Time {
		return time.Date(2026, 5, 1, s(3), 0, 0, 0, time.UTC).In(time.FixedZone("", one(s, []int{0, 7200})))
	}
	c := &vitals.Call{SaidAt: moment()}
	for s.chance(.5) {
		c.Alarms = append(c.Alarms, one(s, []vitals.AlarmID{"heart-high", "no-weight", "dull"}))
	}
	if s.chance(.5) {
		c.ToldAt, c.Told = moment(), one(s, []string{"", "the clinic", "Ann"})
	}
	if s.chance(.4) {
		c.ClosedAt, c.Outcome = moment(), s.Text(false)
	}
	return c
}

func (s Source) finding(sign vitals.Sign, site vitals.SiteID) vitals.Finding {
	f := vitals.Finding{Sign: sign.ID, Site: site}
	if s.chance(.1) {
		f.Minutes = s(60)
	}
	if s.chance(.1) {
		f.Note = s.Text(false)
	}
	if s.chance(.1) {
		f.Absent = one(s, vitals.Absences())
		return f
	}
	switch one(s, sign.Methods) {
	case vitals.ByCount:
		seconds := one(s, []int{15, 30, 60})
		f.Count = &vitals.Count{Events: s.rate(sign.ID) * seconds / 60, Seconds: seconds, Start: one(s, vitals.Starts())}
	case vitals.ByTaps:
		gap, at := 60_000/s.rate(sign.ID), 0
		f.Taps = &vitals.Taps{AtMS: []int{0}}
		for len(f.Taps.AtMS) < 8+s(12) {
			at += gap - gap/20 + s(gap/10+1)
			f.Taps.AtMS = append(f.Taps.AtMS, at)
		}
	case vitals.ByTimer:
		f.Timed = &vitals.Timed{CentiSeconds: []int{90 + s(150)}, Aloud: s.chance(.3)}
		for s.chance(.5) && len(f.Timed.CentiSeconds) < 4 {
			f.Timed.CentiSeconds = append(f.Timed.CentiSeconds, 90+s(150))
		}
	case vitals.ByGirth:
		f.Girth = &vitals.Girth{Girth: decimal.New(int64(1600+s(400)), -1), Length: decimal.New(int64(150+s(30)), 0), Unit: vitals.Centimetre}
	case vitals.ByReading:
		f.Reading = s.reading(sign)
	case vitals.ByChoice:
		s.choose(&f, sign)
	}
	return f
}

func (s Source) rate(sign vitals.SignID) int {
	if sign == vitals.RespiratoryRate {
		return 8 + s(20)
	}
	return 28 + s(50)
}

func (s Source) reading(sign vitals.Sign) *vitals.Reading {
	switch sign.Kind {
	case vitals.KindTemperature:
		if s.chance(.4) {
			return &vitals.Reading{Value: decimal.New(int64(985+s(50)), -1), Unit: vitals.Fahrenheit, Device: vitals.Digital}
		}
		return &vitals.Reading{Value: decimal.New(int64(3700+s(300)), -2), Unit: vitals.Celsius, Device: vitals.Glass, Label: s.Text(true)}
	case vitals.KindWeight:
		if s.chance(.4) {
			return &vitals.Reading{Value: decimal.New(int64(900+s(400)), 0), Unit: vitals.Pound, Device: vitals.WeighTape}
		}
		return &vitals.Reading{Value: decimal.New(int64(420+s(200)), 0), Unit: vitals.Kilogram, Device: vitals.Scale}
	case vitals.KindScore:
		return &vitals.Reading{Value: decimal.New(int64(30+5*s(8)), -1), Unit: sign.Unit}
	}
	return &vitals.Reading{Value: decimal.New(int64(s.rate(sign.ID)), 0), Unit: sign.Unit, Device: vitals.Monitor}
}

func (s Source) choose(f *vitals.Finding, sign vitals.Sign) {
	g := sign.Grades[0]
	if s.chance(.4) {
		g = one(s, sign.Grades)
	}
	f.Chosen = []vitals.GradeID{g.ID}
	if sign.Kind == vitals.KindChoice && !g.Alone && s.chance(.4) {
		for _, more := range sign.Grades {
			if !more.Alone && more.ID != g.ID {
				f.Chosen = append(f.Chosen, more.ID)
				break
			}
		}
	}
	if len(sign.Where) > 0 && g.Rank > 0 {
		f.Where = []vitals.SiteID{one(s, sign.Where)}
	}
}
