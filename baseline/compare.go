package baseline

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"whorl.example/baseline/internal/catalogue"
	"whorl.example/baseline/internal/level"
	"whorl.example/baseline/internal/normal"
	"whorl.example/baseline/internal/whole"
	"whorl.example/vitals"
)

// alpha is the share of well days on which a sign, and an exam as a whole, is called unusual.
const alpha = .05

var itoa = strconv.Itoa

func (c *Compared) warn(key string, args ...string) {
	c.Warnings = append(c.Warnings, Warning{Key: key, Args: args})
}

// Compare sets an exam beside what is usual for this horse and beside the published
// thresholds. Only exams before it teach, never itself, whether or not it was learned
// before. A draft and an exam not at rest are compared too, with a warning: beside what
// is usual at rest.
//
// The error is the [vitals.Faults] of [vitals.CheckExam]: everything that is wrong with the exam, each with its
// code, place and sentence. Nothing is said of such an exam but what [vitals.FiredAlarms] says.
func (b *Baseline) Compare(exam vitals.Exam) (Comparison, error) {
	c, _, err := b.compare(exam)
	return c, err
}

// compare is Compare that also gives what each finding added to the exam as a whole.
func (b *Baseline) compare(exam vitals.Exam) (Comparison, evidence, error) {
	if err := vitals.CheckExam(exam, b.horse).Err(); err != nil {
		return Comparison{}, evidence{}, err
	}
	stage, known := b.horse.StageAt(exam.At)
	c := Comparison{
		Horse: b.horse.ID, Exam: exam.ID, At: exam.At, Stage: stage,
		Alarms:    vitals.FiredAlarms(b.horse, exam),
		Unchecked: unchecked(b.horse, exam),
		Warnings:  warnings(b.horse, exam, known),
	}
	taught, lessons := b.trainingAt(exam.At, exam.ID)

	c.Lessons = lessons
	within := examined{&exam, stage, taught, b.quiet(exam, c.Alarms), newBuffers(len(exam.Findings))}
	c.Signs = make([]Compared, 0, len(exam.Findings))
	all := evidence{make([]contribution, 0, len(exam.Findings))}
	signs, place := catalogue.Signs(), 0
	for i := range exam.Findings {
		f := &exam.Findings[i]
		if f.Absent != "" {
			continue
		}
		place, _ = catalogue.IndexFrom(signs, place, f.Sign)
		sign := &signs[place]
		c.Signs = append(c.Signs, Compared{Sign: f.Sign, Site: f.Site})
		one := &c.Signs[len(c.Signs)-1]
		var ev contribution
		if sign.Kind.Measured() {
			m, err := f.MeasureFor(*sign, b.horse.Type, stage)
			if err != nil {
				c.Signs = c.Signs[:len(c.Signs)-1]
				c.unmeasured(*f, err)
				continue
			}
			one.Measure = &put(&within.room.measures, m)[0]
			ev = b.compareMeasure(one, sign, f, m, &within)
		} else {
			ev = compareGrade(one, sign, f, taught, within.room)
			if one.Statement.Unusual() && someoneElse(f, &exam, taught.grades(*sign, f.Site).by.people) {
				one.warn(WarnSomeoneElse, "by", strings.TrimSpace(exam.By))
			}
		}
		ev.index, ev.sign = len(c.Signs)-1, place
		if sign.PerSite {
			ev.site = f.Site
		}
		all.add(ev)
	}
	c.OwnAlarms(exam)
	if exam.Status == vitals.Finished && exam.RecheckOf != "" { // before that, the sign may still be looked at
		var earlier []vitals.Exam
		for _, e := range b.exams {
			if e.ID == exam.RecheckOf || e.RecheckOf == exam.RecheckOf {
				earlier = append(earlier, *e)
			}
		}
		c.Held(b.horse, exam, earlier)
	}
	otherSides(c.Signs)
	c.Overall = all.overall(b.wellExams(taught, exam.At))
	strong := sidak(len(all.contributions))
	unusual := false
	for _, ev := range all.contributions {
		one := &c.Signs[ev.index]
		one.Strong = one.Statement.Unusual() && one.P < strong
		unusual = unusual || one.Statement.Unusual()
	}
	if unusual && !c.Overall.Unusual && len(c.Alarms) == 0 {
		n := len(all.contributions)
		c.Warnings = append(c.Warnings, Warning{Key: WarnAmong, Args: []string{"n", itoa(n), "of", itoa(int(math.Round(100 * c.Overall.P)))}})
	}
	return c, all, nil
}

// examined is the exam that a finding is of, and what is known of it as a whole.
type examined struct {
	exam   *vitals.Exam
	stage  vitals.Stage
	taught *trainingSet
	quiet  bool // one that its sign's question may be asked by
	room   *buffers
}

// buffers is room for what the findings of one exam are told with: a few pieces of memory in the place of some for each.
type buffers struct {
	measures  []vitals.Measure
	intervals []Interval
	priors    []vitals.Provenance
	usual     []vitals.GradeID
}

func newBuffers(findings int) *buffers {
	return &buffers{
		make([]vitals.Measure, 0, min(findings, 8)), make([]Interval, 0, min(findings, 8)),
		make([]vitals.Provenance, 0, 2*findings), make([]vitals.GradeID, 0, findings),
	}
}

// put puts values on a shelf and gives them as the caller's own.
func put[T any](shelf *[]T, values ...T) []T {
	if len(values) == 0 {
		return nil
	}
	n := len(*shelf)
	*shelf = append(*shelf, values...)
	return slices.Clip((*shelf)[n:])
}

// unmeasured deals with a finding that gives no number, though its entry is in order (an infrared reading, taps too
// uneven, a girth of an animal without a formula): it counts as not checked, and a warning says why.
func (c *Comparison) unmeasured(f vitals.Finding, err error) {
	c.Unchecked = append(c.Unchecked, Unchecked{Sign: f.Sign, Site: f.Site, Reason: vitals.Unsure})
	if faults, ok := errors.AsType[vitals.Faults](err); ok {
		for _, why := range faults {
			c.Warnings = append(c.Warnings, Warning{Key: "fault." + string(why.Code), Args: why.Args})
		}
	}
}

// compareMeasure fills in c for a measured finding.
func (b *Baseline) compareMeasure(c *Compared, sign *vitals.Sign, f *vitals.Finding, m vitals.Measure, within *examined) contribution {
	exam, room := within.exam, within.room
	c.Printed = printed(*sign, b.horse.Type, within.stage)
	at := exam.At.Add(time.Duration(f.Minutes) * time.Minute)
	p, ok := priorOf(sign.ID, b.horse.Type)
	if !ok || p.grown && growing(b.horse, at) {
		c.Statement = Noted
		return contribution{}
	}
	s := b.history(*sign, f.Site, p, at, within.taught)
	c.Basis = s.basis(put(&room.priors, s.from...))
	s.methodWarnings(c, f)
	y, sd, ok := p.scale(m)
	if !ok || p.own && len(s.points) == s.before {
		c.Statement = Noted
		return contribution{}
	}
	next := s.reading(f, exam, y, sd)
	own := s.fit(at)
	s.oddDays(c, own)
	s.trendWarning(c, own, at)
	s.lighterWarning(c, day(at))
	s.question(c, at, next, within.quiet)
	usual := normal.Mixtures.Get().(*normal.Mixture)
	defer normal.Mixtures.Put(usual)
	without := s.predictBy(usual, own, next, at)
	c.Own = &put(&room.intervals, s.ends(usual))[0]
	plain, told, above := usual.Rarity(y)
	c.Tail, c.P = told/2, told
	switch {
	case plain >= alpha:
		c.Statement = AsUsual
	case above:
		c.Statement = Higher
	default:
		c.Statement = Lower
	}
	if (c.Statement.Unusual() || without) && someoneElse(f, exam, s.by.people) {
		c.warn(WarnSomeoneElse, "by", strings.TrimSpace(exam.By))
	}
	c.Settle = settle(sign, f, m, func(better float64) float64 {
		better = p.scaleSD(m.Value, better)
		usual.AddVariance(better*better - sd*sd)
		return changeChance(usual.Edge(y, 1-alpha), sd, better)
	})
	toward := c.P
	if sign.Bad == vitals.Upward {
		if toward = c.Tail; !above {
			toward = 1 - c.Tail
		}
	}
	return contribution{p: c.P, toward: toward, sd: sd, ok: true, found: whole.Finding{P: c.P}}
}

// cauchy combines probabilities that need not be independent into one: the mean of
// cot(pi p) is compared with a Cauchy distribution (Liu and Xie, JASA 115 (2020) 393-402).
// In simulated well exams of 5, 15, 30 independent signs it was below .05 in 4.99, 4.99, 5.02 of 100, of signs that move
// together by .3 in 5.28, 5.68, 6.03 (4,000,000 exams each, standard error .01), and of 15 that move apart or in three groups in 5.7 and 5.5. It is 1 for no probability at all.
func cauchy(ps []float64) float64 {
	switch len(ps) {
	case 0:
		return 1
	case 1:
		return cut(ps[0])
	}
	sum := 0.0
	for _, p := range ps {
		sum += 1 / math.Tan(math.Pi*cut(p))
	}
	mean := sum / float64(len(ps))
	if mean > 1 {
		return math.Atan(1/mean) / math.Pi // keeps the digits of a small one
	}
	return .5 - math.Atan(mean)/math.Pi
}

// cut bounds a probability. One of 0 is as far as the numbers reach, not certainty. One of 1 has a
// summand without bound: a sign exactly as usual would hide every other.
// Cut at .999, of 1000 well exams of 30 signs .2 more are called; cut at .99, 2 more.
func cut(p float64) float64 { return min(max(p, 1e-15), .999) }

// sidak is the probability below which one of m statements stands out at alpha for all of
// them together (Šidák 1967).
func sidak(m int) float64 { return -math.Expm1(math.Log1p(-alpha) / float64(max(m, 1))) }

// trendAlpha is how rarely a direction among quiet readings is warned of by chance: 1 in 50
// for each sign, since nobody asked about it.
const trendAlpha = .02

// trendWarning warns where the horse's own quiet readings have been going one way. The
// limits follow a slow climb and would call its end usual (the price of a level that may
// wander), so the direction is watched beside them.
func (s *series) trendWarning(c *Compared, own *level.Model, at time.Time) {
	t := s.trend(at, own)
	if !(t.P < trendAlpha) {
		return
	}
	c.warn(WarnTrend, "n", itoa(t.N), "days", itoa(int(math.Round(t.Days))), "from", s.shown(s.prior.unscale(t.From)), "to", s.shown(s.prior.unscale(t.To)))
}

// trend is the direction of the readings of the present level.
func (s *series) trend(at time.Time, own *level.Model) level.Slope {
	set := s.setting(at)
	return s.fits.Slope(set, func() level.Slope { return level.Trend(set, s.alike(set, own)) })
}

// alike gives the readings of the present level without what the hour of the day adds, and who measured.
func (s *series) alike(set level.Setting, own *level.Model) []level.Reading {
	points := s.points[s.before:]
	if set.Rhythm != nil || set.Ways > 0 {
		b := own.Belief()
		points = make([]level.Reading, len(s.points)-s.before)
		for i, p := range s.points[s.before:] {
			cos, sin := level.Angle(p.Hour)
			p.Y -= b.Cos*cos + b.Sin*sin + b.OffsetOf(p.Way)
			points[i] = p
		}
	}
	return points
}

// shown writes a figure of the sign for a warning.
func (s *series) shown(value float64) string { return vitals.Decimals(value, s.sign.Places) }
