package baseline

import (
	"math"
	"slices"
	"time"

	"whorl.example/baseline/internal/level"
	"whorl.example/baseline/internal/normal"
	"whorl.example/vitals"
)

// A lasting change. The limits follow a horse that settles at a new level only
// after ten readings or so, and nothing in the numbers tells a horse that has changed for
// good from one that is unwell for a while. So a person is asked, and the answer
// ([vitals.NewUsual]) is part of the record.

// Question asks whether the readings of a sign on the latest quiet days are its new usual: all of them
// lie on one side of what was usual before.
type Question struct {
	// From is the first of these readings, Days on how many days they lie, Readings how many they are.
	From     time.Time `json:"from"`
	Days     int       `json:"days"`
	Readings int       `json:"readings"`
	// Side is [Higher] or [Lower].
	Side Statement `json:"side"`
	// Low and High are the least and the greatest of them, in the sign's unit.
	Low  float64 `json:"low"`
	High float64 `json:"high"`
	// Before is what was usual before them, taken in the most precise common way.
	Before Interval `json:"before"`
}

const (
	// askDays is on how many days in a row the quiet readings must lie on one side.
	askDays = 3
	// askMost: where so many do not, a day more is looked at, up to this many: a change may have
	// begun before the first of them, and what was usual must be known without it.
	askMost = 6
	// askBase is how many own readings must say what was usual before.
	askBase = 3
	// askEach: each of the readings is farther out than this share of usual ones on that side.
	askEach = .16
	// askTogether: and their mean farther than this share of such means.
	askTogether = .02
)

// since takes the answer to "is this the new usual?" that holds for the sign.
func (s *series) since(u vitals.NewUsual) {
	s.mark = &u
	i := slices.IndexFunc(s.exams, func(l Learned) bool { return !l.At.Before(u.From) })
	if i < 0 {
		s.before = len(s.points)
		return
	}
	s.before = i
	s.points[i].NewLevel = true
}

// asked looks for the question in the own quiet readings and, if it is one of them, the one
// compared.
func (s *series) asked(at time.Time, now *level.Reading, reading Learned) *Question {
	points, exams := s.points, s.exams
	if now != nil {
		points, exams = append(slices.Clip(points), *now), append(slices.Clip(exams), reading)
	}
	var day dayOf
	for days := askDays; days <= askMost; days++ {
		from, ok := s.run(exams, days)
		if !ok {
			return nil
		}
		if days == askDays {
			day = s.dayOf(at)
		}
		base, run := *s, points[from:]
		base.points, base.exams = points[:from], exams[:from]
		if !base.beside(run, day) {
			return nil // nor with a further day
		}
		// Bad days left out narrow what is usual, and not so far that what is nowhere near the
		// edge without would be beyond it.
		if oneSide(base.plain(at), run, 30) == "" {
			continue
		}
		own := base.fit(at)
		side := oneSide(own, run, 1)
		if side == "" {
			continue
		}
		q := Question{From: exams[from].At, Days: days, Readings: len(run), Side: side, Low: math.Inf(1), High: math.Inf(-1)}
		for _, e := range exams[from:] {
			q.Low, q.High = min(q.Low, e.Value), max(q.High, e.Value)
		}
		q.Before = *s.interval(own.Predict(run[0].Day, run[0].Hour, s.preciseSD()))
		return &q
	}
	return nil
}

// run gives the first of the readings of the latest days; ok is false where there are not so many days, or
// not enough readings before them, or fewer than askDays since it was answered that they are not the new usual.
func (s *series) run(exams []Learned, days int) (from int, ok bool) {
	var answered time.Time
	for _, u := range s.horse.NewUsual {
		if u.Sign == s.sign.ID && u.Site == s.site && u.Not && !u.Back && u.Said.After(answered) {
			answered = u.Said
		}
	}
	n, since, last := 0, 0, vitals.Date{}
	for from = len(exams); from > s.before; from-- {
		on := vitals.DateOf(exams[from-1].At)
		if on == last {
			continue
		}
		if n == days {
			break
		}
		n++
		if exams[from-1].At.After(answered) {
			since++
		}
		last = on
	}
	return from, n == days && since >= askDays && visits(exams[s.before:from]) >= askBase
}

// visits counts the visits of readings in their order.
func visits(exams []Learned) (n int) {
	first := 0.0
	for i := range exams {
		if at := day(exams[i].At); i == 0 || !level.SameVisit(at-first) {
			n, first = n+1, at
		}
	}
	return n
}

// dayOf is what the hour of the day does to a reading, as far as own readings say; what they leave open is slack.
type dayOf struct{ cos, sin, slack float64 }

// dayOf gives that of the sign.
func (s *series) dayOf(at time.Time) dayOf {
	switch {
	case !s.prior.rhythm:
		return dayOf{}
	case len(s.points)-s.before < level.OutwardFrom:
		return dayOf{slack: 2 * rhythmAmplitude}
	}
	cos, sin, sd, ok := s.plain(at).RhythmLearned()
	if !ok {
		return dayOf{slack: 2 * rhythmAmplitude}
	}
	return dayOf{cos, sin, 2 * sd}
}

// without is a reading without it.
func (d dayOf) without(p *level.Reading) float64 {
	if d.cos == 0 && d.sin == 0 {
		return p.Y
	}
	cos, sin := level.Angle(p.Hour)
	return p.Y - d.cos*cos - d.sin*sin
}

// beside is a cheap look at whether the readings can lie on one side of the others at all. What the day does is taken from
// all of them together, which a change can only make look smaller, and not the other way round.
func (s *series) beside(run []level.Reading, day dayOf) bool {
	mean := 0.0
	own := s.points[s.before:]
	for i := range own {
		mean += day.without(&own[i]) / float64(len(own))
	}
	above, below := true, true
	for i := range run {
		y := day.without(&run[i])
		above = above && y > mean-day.slack
		below = below && y < mean+day.slack
	}
	return above || below
}

// oneSide reports on which side of what is usual all the readings lie, "" for none, at tails so
// many times as great as are asked for.
func oneSide(l *level.Model, run []level.Reading, times float64) Statement {
	p := normal.Mixtures.Get().(*normal.Mixture)
	defer normal.Mixtures.Put(p)
	l.PredictMeanOf(p, run)
	mean := 0.0
	for _, q := range run {
		mean += q.Y / float64(len(run))
	}
	below, above := p.Tails(mean)
	side, tail := Higher, above
	if tail > .5 {
		side, tail = Lower, below
	}
	if tail >= times*askTogether/2 {
		return ""
	}
	for _, q := range run {
		l.PredictInto(p, q.Day, q.Hour, q.SD)
		below, above := p.Tails(q.Y)
		tail := above
		if side == Lower {
			tail = below
		}
		if tail >= min(1, times*askEach) {
			return ""
		}
	}
	return side
}

// question puts the question of a measured finding, as data and as a warning.
func (s *series) question(c *Compared, at time.Time, next level.Reading, quiet bool) {
	var now *level.Reading
	reading := Learned{At: at, Value: c.Measure.Value, SD: c.Measure.SD}
	if quiet {
		now = &next
	}
	var q *Question
	if now != nil {
		q = s.asked(at, now, reading)
	} else {
		q = s.questions.of(s.setting(at), func() *Question { return s.asked(at, nil, reading) })
	}
	if q == nil {
		return
	}
	c.Question = q
	key := WarnAskHigher
	if q.Side == Lower {
		key = WarnAskLower
	}
	c.warn(key, "n", itoa(q.Readings), "low", s.shown(q.Low), "high", s.shown(q.High), "from", s.shown(q.Before.Low), "to", s.shown(q.Before.High))
}

// odds puts to each own reading the probability that it is from a bad day.
func (s *series) odds(own *level.Model) []Learned {
	out := slices.Clone(s.exams)
	for i, p := range own.BadDayProbabilities() {
		out[i].Odd = p
	}
	return out
}

// oddDays warns where own readings are probably from bad days.
func (s *series) oddDays(c *Compared, own *level.Model) {
	if !own.LooksForBadDays() {
		return
	}
	n, worst := 0, Learned{Odd: .5}
	for _, l := range s.odds(own) {
		if l.Odd > .5 {
			n++
		}
		if l.Odd > worst.Odd {
			worst = l
		}
	}
	if n > 0 {
		c.warn(WarnOddDays, "n", itoa(n), "of", itoa(len(s.points)), "value", s.shown(worst.Value), "day", vitals.DateOf(worst.At).String())
	}
}
