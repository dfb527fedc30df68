// Package watch states the direction of each sign over a series of rechecks within hours: [Last] of the last series, [From] of
// the one that begins with an exam.
package watch

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"time"

	"whorl.example/baseline"
	"whorl.example/baseline/internal/fingerprint"
	"whorl.example/baseline/internal/stable"
	"whorl.example/vitals"
)

// watchGap parts two watches: after a longer pause an exam begins a new one. Assumed: a
// sick horse that is watched is looked at more often than twice a day.
const gap = 12 * time.Hour

// Trend is the direction of a measured sign over a series of rechecks.
type Trend string

const (
	Rising  Trend = "rising"
	Falling Trend = "falling"
	// NoTrendShown: no change that this many readings could show. It is not "no change".
	NoTrendShown Trend = "none-shown"
	// TooFew: readings at fewer than three moments.
	TooFew Trend = "too-few"
	// TrendNotKnown: nothing says how far this sign moves by itself, so nothing is said.
	TrendNotKnown Trend = "not-known"
)

// Keys of the words of a watch's warnings.
const (
	WarnWatchOneReading = "watch.one-reading" // the slope rests on one reading; the middle of all slopes says otherwise
	WarnWatchUneven     = "watch.uneven"      // moves more than this horse by itself, and not in one direction
	WarnWatchMedicated  = "watch.medicated"   // sedated or medicated during the watch
	WarnWatchExcited    = "watch.excited"
	WarnWatchEarlier    = "watch.earlier" // n: readings before a pause of 12 hours are left out
	WarnWatchOwn        = "watch.own"     // rests on no exam of this horse's own
	WarnWatchAlarm      = "watch.alarm"   // not called better: in the newest exam a rule says to call now
	WarnWatchEased      = "watch.eased"   // not called better: violent pain stopped from one look to the next
)

// Watched is the course of one sign (at one site, where each site has its own normal)
// over a series of rechecks within hours, with what a chart needs.
type Watched struct {
	Sign vitals.SignID `json:"sign"`
	Site vitals.SiteID `json:"site,omitempty"`
	// From and To are the moments of the first and last value.
	From time.Time `json:"from"`
	To   time.Time `json:"to"`
	// Missing is how many exams of the series have no value of the sign.
	Missing int `json:"missing,omitempty"`

	// Of a measured sign. Own is the horse's own interval at the first reading, for a reading
	// taken in the most precise way; nil where nothing is assumed of the sign.
	Unit   vitals.Unit        `json:"unit,omitempty"`
	Own    *baseline.Interval `json:"own,omitempty"`
	Points []WatchedPoint     `json:"points,omitempty"`
	Trend  Trend              `json:"trend,omitempty"`
	Slope  *Slope             `json:"slope,omitempty"`
	Robust *RobustSlope       `json:"robust,omitempty"`
	Basis  *baseline.Basis    `json:"basis,omitempty"`

	// Of a graded sign: every answer, and the last beside the first. This describes; no
	// probability goes with it. Behaviours of belly pain are put in order by [vitals.Severities], other
	// answers by their ranks; the worst of an exam counts. Course is empty where nothing says which is
	// worse, and where better is not to be said ([WarnWatchAlarm], [WarnWatchEased]).
	Answers []WatchedAnswer `json:"answers,omitempty"`
	Course  vitals.Course   `json:"course,omitempty"`

	Warnings []baseline.Warning `json:"warnings,omitempty"`
}

// WatchedPoint is one reading of the series.
type WatchedPoint struct {
	Exam vitals.ID `json:"exam"`
	At   time.Time `json:"at"`
	// Minutes since the first reading.
	Minutes float64 `json:"minutes"`
	vitals.Measure
	// Line is the fitted course at this moment, in the sign's unit; 0 without a slope.
	Line float64 `json:"line,omitempty"`
}

// Slope is the weighted least squares slope, with the horse's own SD from its exams and
// the measuring SD of each reading. Figures are in the sign's unit per hour, at the middle
// of the series for a sign compared on the log scale.
type Slope struct {
	PerHour float64 `json:"perHour"`
	SD      float64 `json:"sd"`
	// Low and High hold the slope. They are wide enough that in 95 of 100 series they hold it
	// at every look, however often somebody looks.
	Low  float64 `json:"low"`
	High float64 `json:"high"`
	// P is two-sided; Level is what this look may spend of the 5 % for the whole series.
	P     float64 `json:"p"`
	Level float64 `json:"level"`
	// WouldShow is the size of slope that this many readings show in 4 of 5 series.
	WouldShow float64 `json:"wouldShow"`
	// EveryMinutes is the time in which the slope is said so that the number is sayable: 10 or 60.
	EveryMinutes int `json:"everyMinutes"`
}

// RobustSlope describes a series of six readings or more without the horse's SD.
type RobustSlope struct {
	// PerHour is the median of the slopes between any two readings (Theil-Sen).
	PerHour float64 `json:"perHour"`
	// S is Kendall's: rising pairs less falling pairs. P is exact, two-sided.
	S int     `json:"s"`
	P float64 `json:"p"`
}

// WatchedAnswer is one look of a graded sign.
type WatchedAnswer struct {
	Exam   vitals.ID        `json:"exam"`
	At     time.Time        `json:"at"`
	Chosen []vitals.GradeID `json:"chosen"`
	Rank   int              `json:"rank"`
	// Severity of the worst behaviour of belly pain among them, 1 to 5.
	Severity int `json:"severity,omitempty"`
	// Step is from the answer before; empty for the first.
	Step vitals.Course `json:"step,omitempty"`
}

// Of is [From] the first look of an exam's case, or [Last] where it has none among those before it: what the report of
// the exam tells. It is empty where the exam itself is none of the series: done after work, or on a quiet day.
func Of(b *baseline.Baseline, exam vitals.Exam, earlier []vitals.Exam) []Watched {
	run := []vitals.Exam{exam}
	for _, e := range earlier {
		if e.ID != exam.ID && e.At.Before(exam.At) {
			run = append(run, e)
		}
	}
	var list []Watched
	if first := exam.RecheckOf; slices.ContainsFunc(run, func(e vitals.Exam) bool { return e.ID == first }) {
		list = From(b, first, run)
	} else {
		list = Last(b, run)
	}
	if !slices.ContainsFunc(list, func(w Watched) bool { return !w.To.Before(exam.At) }) {
		return nil
	}
	return list
}

// Last states the direction of each sign over the last series of rechecks: exams of
// this horse with the purpose recheck or concern, and those that a recheck names as its
// first one, finished, not after work (for which there is [Recoveries]), with no pause of
// more than 12 hours. The order of the exams does not matter, and an exam given twice
// counts once. Signs come in the catalogue's order.
//
// In one series of a horse that stays as it is, the chance of any false "rising" or
// "falling" of one sign is at most 5 %, looked at after every reading.
func Last(b *baseline.Baseline, exams []vitals.Exam) []Watched {
	all := examsOf(b.Horse().ID, exams)
	i := len(all) - 1
	for i > 0 && all[i].At.Sub(all[i-1].At) <= gap {
		i--
	}
	i = max(i, 0)
	return directions(b, all[i:], all[:i])
}

// From is [Last] of the series that begins with an exam, to the first pause
// of more than 12 hours. The exam may have any purpose. It is empty where the exam is not
// among those that can be watched.
func From(b *baseline.Baseline, first vitals.ID, exams []vitals.Exam) []Watched {
	var named []vitals.Exam
	for _, e := range exams {
		if e.ID == first && e.Purpose != vitals.Concern {
			e.Purpose = vitals.Recheck
		}
		named = append(named, e)
	}
	all := examsOf(b.Horse().ID, named)
	from := slices.IndexFunc(all, func(e vitals.Exam) bool { return e.ID == first })
	if from < 0 {
		return nil
	}
	to := from + 1
	for to < len(all) && all[to].At.Sub(all[to-1].At) <= gap {
		to++
	}
	return directions(b, all[from:to], nil)
}

// directions states the direction of each sign over a run of exams, oldest first.
func directions(b *baseline.Baseline, run, earlier []vitals.Exam) []Watched {
	var out []Watched
	hold := withholding(b.Horse(), run)
	for _, sign := range vitals.Catalogue() {
		if sign.Context {
			continue // of the days before, not of the horse as it is
		}
		for _, site := range sitesSeen(sign, run) {
			var w Watched
			if sign.Kind.Measured() {
				w = watchMeasured(b, sign, site, run)
			} else {
				w = watchGraded(b.Horse().Type, sign, site, run)
				hold.from(&w, sign)
			}
			if len(w.Points)+len(w.Answers) == 0 {
				continue
			}
			if n := valuesOf(sign, site, earlier); n > 0 {
				w.warn(WarnWatchEarlier, "n", strconv.Itoa(n))
			}
			for key, c := range map[string]vitals.Condition{WarnWatchMedicated: vitals.Medicated, WarnWatchExcited: vitals.Excited} {
				if slices.ContainsFunc(run, func(e vitals.Exam) bool { return e.State.In(c) || c == vitals.Medicated && e.Masked() }) {
					w.warn(key)
				}
			}
			stable.Sort(w.Warnings, func(a, b baseline.Warning) int { return cmp.Compare(a.Key, b.Key) })
			out = append(out, w)
		}
	}
	return out
}

// Moved reports whether the sign is not as at the first look, as far as that can be told.
func (w Watched) Moved() bool {
	if n := len(w.Answers); n > 1 {
		return w.Course == vitals.Worse || w.Course == vitals.Better ||
			w.Course == "" && !slices.Equal(w.Answers[0].Chosen, w.Answers[n-1].Chosen)
	}
	return w.Trend == Rising || w.Trend == Falling
}

// Way is 1 where each of three or more readings is higher than the one before, -1 where each is lower, else 0. It describes and
// claims nothing.
func (w Watched) Way() int {
	up, down := len(w.Points) > 2, len(w.Points) > 2
	for i := 1; i < len(w.Points); i++ {
		up, down = up && w.Points[i].Value > w.Points[i-1].Value, down && w.Points[i].Value < w.Points[i-1].Value
	}
	switch {
	case up:
		return 1
	case down:
		return -1
	}
	return 0
}

func (w *Watched) warn(key string, args ...string) {
	w.Warnings = append(w.Warnings, baseline.Warning{Key: key, Args: args})
}

// watchExams gives the exams that can belong to a series, oldest first, each once.
func examsOf(horse vitals.ID, exams []vitals.Exam) []vitals.Exam {
	first := map[vitals.ID]bool{}
	for _, e := range exams {
		if e.RecheckOf != "" {
			first[e.RecheckOf] = true
		}
	}
	var run []vitals.Exam
	for _, e := range exams {
		recheck := e.Purpose == vitals.Recheck || e.Purpose == vitals.Concern || e.RecheckOf != "" || first[e.ID]
		if e.Horse == horse && e.Status == vitals.Finished && recheck && !e.At.IsZero() && !e.State.In(vitals.AfterWork) {
			run = append(run, e)
		}
	}
	stable.Sort(run, func(a, b vitals.Exam) int {
		if c := cmp.Or(a.At.Compare(b.At), cmp.Compare(a.ID, b.ID)); c != 0 {
			return c
		}
		return fingerprint.Exam(&a).Compare(fingerprint.Exam(&b))
	})
	once := run[:0]
	for _, e := range run {
		if n := len(once); n == 0 || once[n-1].ID != e.ID || !once[n-1].At.Equal(e.At) || fingerprint.Exam(&once[n-1]) != fingerprint.Exam(&e) {
			once = append(once, e)
		}
	}
	return once
}

// watchSites gives the sites to watch separately: those seen of a sign with a normal for
// each, else one entry for all.
func sitesSeen(sign vitals.Sign, run []vitals.Exam) []vitals.SiteID {
	if !sign.PerSite {
		return []vitals.SiteID{""}
	}
	var out []vitals.SiteID
	for _, s := range sign.Sites {
		if valuesOf(sign, s.ID, run) > 0 {
			out = append(out, s.ID)
		}
	}
	return out
}

func isOf(sign vitals.Sign, site vitals.SiteID, f vitals.Finding) bool {
	return f.Sign == sign.ID && f.Absent == "" && (!sign.PerSite || f.Site == site)
}

func valuesOf(sign vitals.Sign, site vitals.SiteID, exams []vitals.Exam) (n int) {
	for _, e := range exams {
		for _, f := range e.Findings {
			if isOf(sign, site, f) {
				n++
			}
		}
	}
	return n
}

func findingTime(e vitals.Exam, f vitals.Finding) time.Time {
	return e.At.Add(time.Duration(f.Minutes) * time.Minute)
}

func watchMeasured(b *baseline.Baseline, sign vitals.Sign, site vitals.SiteID, run []vitals.Exam) Watched {
	w := Watched{Sign: sign.ID, Site: site, Unit: sign.Unit, Trend: TooFew}
	for _, e := range run {
		n := len(w.Points)
		for _, f := range e.Findings {
			if !isOf(sign, site, f) {
				continue
			}
			stage, _ := b.Horse().StageAt(e.At)
			m, err := f.MeasureFor(sign, b.Horse().Type, stage)
			if err == nil && isFinite(m.Value) && isFinite(m.SD) && m.SD >= 0 {
				w.Points = append(w.Points, WatchedPoint{Exam: e.ID, At: findingTime(e, f), Measure: m})
			}
		}
		if len(w.Points) == n {
			w.Missing++
		}
	}
	if len(w.Points) == 0 {
		return w
	}
	stable.Sort(w.Points, func(a, b WatchedPoint) int {
		return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.Value, b.Value), cmp.Compare(a.SD, b.SD), cmp.Compare(a.Exam, b.Exam))
	})
	w.From, w.To = w.Points[0].At, w.Points[len(w.Points)-1].At
	for i := range w.Points {
		w.Points[i].Minutes = w.Points[i].At.Sub(w.From).Minutes()
	}
	k, ok := b.Variation(sign, site, w.From)
	if !ok {
		w.Trend = TrendNotKnown
		return w
	}
	w.Basis, w.Own = &k.Basis, k.Own
	if k.Basis.Exams == 0 {
		w.warn(WarnWatchOwn)
	}
	w.direct(sign, k)
	return w
}

// direct fills in the direction.
func (w *Watched) direct(sign vitals.Sign, k baseline.Variation) {
	var rs []reading
	for _, p := range w.Points {
		if y, s, ok := k.Scale(p.Measure); ok {
			rs = append(rs, reading{p.Minutes / 60, y - k.Course(p.At), s})
		}
	}
	rs = poolReadings(rs)
	d, ok := slopeOf(rs, spreadOf(k))
	if !ok {
		return
	}
	low, high, shows := d.limits()
	// From the log scale back to the unit, at the middle of the series.
	per := 1.0
	if k.Log {
		per = math.Exp(d.mid)
	}
	w.Slope = &Slope{PerHour: per * d.slope, SD: per * d.se, Low: per * low, High: per * high, P: d.p, Level: d.level, WouldShow: per * shows}
	for i, p := range w.Points {
		w.Points[i].Line = k.Unscale(d.mid + d.slope*(p.Minutes/60-d.at) + k.Course(p.At))
	}
	w.Trend = NoTrendShown
	said := w.Slope.WouldShow
	if d.p < d.level {
		w.Trend, said = Rising, w.Slope.PerHour
		if d.slope < 0 {
			w.Trend = Falling
		}
	}
	w.Slope.EveryMinutes = sayableMinutes(said, sign.Places, w.To.Sub(w.From))
	if d.uneven {
		w.warn(WarnWatchUneven)
	}
	w.robust(rs, per)
}

// sayableMinutes is 10, or 60 where ten minutes change less than two steps of the sign's
// display; never 60 for less than an hour of watching, which would say what nobody saw.
func sayableMinutes(perHour float64, places int, span time.Duration) int {
	if math.Abs(perHour)/6 >= 2*math.Pow10(-places) || span < time.Hour {
		return 10
	}
	return 60
}

// robustLeast: with fewer readings the exact test cannot say much (its smallest two-sided p
// is 2/n!), and the slope with the horse's SD says more.
const robustLeast = 6

func (w *Watched) robust(rs []reading, per float64) {
	if len(rs) < robustLeast {
		return
	}
	t, y := make([]float64, len(rs)), make([]float64, len(rs))
	for i, r := range rs {
		t[i], y[i] = r.t, r.y
	}
	r := describe(t, y)
	r.PerHour *= per
	w.Robust = &r
	if w.Trend != Rising && w.Trend != Falling {
		return
	}
	// Less than a third of the slope, or the other way: the line hangs on few readings (a
	// third is assumed).
	if share := r.PerHour / w.Slope.PerHour; !(share >= 1./3) {
		w.warn(WarnWatchOneReading)
	}
}
