package baseline

import (
	"math"
	"slices"
	"time"

	"whorl.example/baseline/internal/catalogue"
	"whorl.example/baseline/internal/grade"
	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

// Explanation is what stands behind a comparison: for each finding what was assumed, which
// readings were used, how much each weighs and where the limits come from, and how the
// findings were put together. The words are in package report.
type Explanation struct {
	Exam vitals.ID `json:"exam"`
	At   time.Time `json:"at"`
	// Signs are as in the comparison, and in its order.
	Signs   []Why    `json:"signs,omitempty"`
	Overall WhyExam  `json:"overall"`
	Lessons []Lesson `json:"lessons,omitempty"`
}

// Why is what stands behind the statement on one finding: Measured, Graded, or neither where nothing
// says what is usual.
type Why struct {
	Sign      vitals.SignID `json:"sign"`
	Site      vitals.SiteID `json:"site,omitempty"`
	Statement Statement     `json:"statement"`
	Measured  *WhyMeasured  `json:"measured,omitempty"`
	Graded    *WhyGraded    `json:"graded,omitempty"`
}

// WhyMeasured is what stands behind a number. All amounts are in the sign's unit; of a sign
// compared by ratios (breathing, timed signs, weight), SDs hold at the middle.
type WhyMeasured struct {
	Unit  vitals.Unit `json:"unit"`
	Value float64     `json:"value"`
	// Before is the interval before the first own exam, for a reading taken like this one.
	Before Interval `json:"before"`
	// Between is the SD between animals, Within that of one animal from day to day, of which two
	// animals in three lie within a factor of Factor. Where they come from is Prior.
	Between float64             `json:"between"`
	Within  float64             `json:"within"`
	Factor  float64             `json:"factor"`
	Prior   []vitals.Provenance `json:"prior,omitempty"`

	// Readings are the horse's own, oldest first, with what each weighs. PriorShare is what is left for the
	// assumptions.
	Readings   []Weighed `json:"readings,omitempty"`
	PriorShare float64   `json:"priorShare"`
	// Since and Earlier as in [Basis].
	Since   time.Time `json:"since,omitzero"`
	Earlier int       `json:"earlier,omitempty"`

	// Own is the interval, Level the share of quiet days called unusual by chance, Tail the
	// probability of a reading as far out on the same side, P the two-sided one.
	Own   Interval `json:"own"`
	Level float64  `json:"level"`
	Tail  float64  `json:"tail"`
	P     float64  `json:"p"`
	// The width is made of three SDs: Doubt of where the level is today, Spread from day to
	// day, and Method of taking the reading.
	Doubt  float64 `json:"doubt"`
	Spread float64 `json:"spread"`
	Method float64 `json:"method"`
	// Wanders is how probable it is that the level wanders slowly, 0 to 1.
	Wanders float64 `json:"wanders"`
	// Hour is how far this hour of the day is from the middle of the day, of a sign with a
	// daily rhythm.
	Hour *float64 `json:"hour,omitempty"`
	// Trend is the direction of the own readings; nil for fewer than four.
	Trend *WhyTrend `json:"trend,omitempty"`
}

// Weighed is an own reading with its weight: by how much of a unit the middle of the
// interval would move if the reading were a unit higher.
type Weighed struct {
	Learned
	Share float64 `json:"share"`
}

// WhyTrend is a straight line through the latest own readings.
type WhyTrend struct {
	Readings int     `json:"readings"`
	Days     float64 `json:"days"`
	From     float64 `json:"from"`
	To       float64 `json:"to"`
	// P is how probable so steep a line is where there is no direction; it is stated below Level.
	P      float64 `json:"p"`
	Level  float64 `json:"level"`
	Stated bool    `json:"stated,omitempty"`
}

// WhyGraded is what stands behind an answer.
type WhyGraded struct {
	Chosen []vitals.GradeID `json:"chosen"`
	// Exams is how many own exams answered the sign, Seen how many of them showed as much.
	Exams int `json:"exams"`
	Seen  int `json:"seen"`
	// Usual is the answer shown most often, in UsualSeen of the exams.
	Usual     []vitals.GradeID `json:"usual,omitempty"`
	UsualSeen int              `json:"usualSeen,omitempty"`
	// Assumed is the share of well animals taken to show as much before the first exam; it
	// weighs as much as Worth exams.
	Assumed float64             `json:"assumed"`
	Worth   int                 `json:"worth"`
	Prior   []vitals.Provenance `json:"prior,omitempty"`
	// P is the share of quiet days with such an answer, called different below Level.
	P     float64 `json:"p"`
	Level float64 `json:"level"`
}

// WhyExam is how the findings were put together.
type WhyExam struct {
	// Parts are the signs, the one that weighs most first.
	Parts []WhyPart `json:"parts,omitempty"`
	P     float64   `json:"p"`
	Level float64   `json:"level"`
	// Strong is the probability below which one finding stands out among all of them.
	Strong  float64 `json:"strong"`
	Unusual bool    `json:"unusual,omitempty"`
}

// WhyPart is what one sign adds to the exam as a whole; the sites of a sign are one.
type WhyPart struct {
	Sign  vitals.SignID `json:"sign"`
	Sites int           `json:"sites,omitempty"`
	P     float64       `json:"p"`
}

// Explain says what stands behind the comparison of an exam. The error is that of
// [Baseline.Compare].
func (b *Baseline) Explain(exam vitals.Exam) (Explanation, error) {
	c, all, err := b.compare(exam)
	if err != nil {
		return Explanation{}, err
	}
	x := Explanation{Exam: exam.ID, At: exam.At, Overall: all.why(c.Overall), Lessons: c.Lessons}
	taught, _ := b.trainingAt(exam.At, exam.ID)
	found := exam.Findings
	for _, one := range c.Signs {
		for found[0].Absent != "" || found[0].Sign != one.Sign || found[0].Site != one.Site {
			found = found[1:]
		}
		f := found[0]
		found = found[1:]
		w := Why{Sign: one.Sign, Site: one.Site, Statement: one.Statement}
		sign, _ := vitals.Lookup(one.Sign)
		switch {
		case one.Measure != nil && one.Own != nil:
			w.Measured = b.whyMeasured(one, sign, f, &exam, taught)
		case one.Measure == nil && len(one.Basis.Prior) > 0:
			w.Graded = whyGraded(one, sign, f)
		}
		x.Signs = append(x.Signs, w)
	}
	return x, nil
}

func (b *Baseline) whyMeasured(c Compared, sign vitals.Sign, f vitals.Finding, exam *vitals.Exam, taught *trainingSet) *WhyMeasured {
	at := exam.At.Add(time.Duration(f.Minutes) * time.Minute)
	p, _ := priorOf(sign.ID, b.horse.Type)
	s := b.history(sign, f.Site, p, at, taught)
	y, sd, _ := p.scale(*c.Measure)
	next := s.reading(&f, exam, y, sd)
	own := s.fitFor(next, at)
	inUnit := func(half float64) float64 {
		if p.log {
			return c.Own.Mid * half
		}
		return half
	}
	belief := own.Belief()
	doubt, spread := own.VarianceParts(next)
	w := &WhyMeasured{
		Unit: c.Measure.Unit, Value: c.Measure.Value,
		Before:  *s.interval(level.Fit(s.setting(at), nil).Predict(day(at), hour(at), sd)),
		Between: inUnit(s.row.tau), Within: inUnit(s.row.sigma0), Factor: math.Exp(s.row.omega), Prior: s.from,
		Own: *c.Own, Level: alpha, Tail: c.Tail, P: c.P,
		Doubt: inUnit(doubt), Spread: inUnit(spread), Method: inUnit(sd),
		Wanders: 1 - belief.Steady, Earlier: c.Basis.Earlier, Since: c.Basis.Since,
	}
	if s.setting(at).Rhythm != nil {
		cos, sin := level.Angle(hour(at))
		h := belief.Cos*cos + belief.Sin*sin
		w.Hour = &h
	}
	shares, rest := s.shares(own, at, sd), 1.0
	for i, l := range s.odds(own) {
		w.Readings = append(w.Readings, Weighed{l, shares[i]})
		rest -= shares[i]
	}
	w.PriorShare = max(0, min(1, rest))
	if t := s.trend(at, own); t.N >= level.TrendLeast {
		w.Trend = &WhyTrend{Readings: t.N, Days: t.Days, From: p.unscale(t.From), To: p.unscale(t.To), P: t.P, Level: trendAlpha, Stated: t.P < trendAlpha}
	}
	return w
}

// shares asks the model itself by how much the middle moves with each reading. A reading that may be of
// a bad day has the noise that makes it count for as much less; the model without
// bad days is then asked, because the other is slow.
func (s *series) shares(own *level.Model, at time.Time, sd float64) []float64 {
	set := s.setting(at)
	set.BadDays = false
	points := slices.Clone(s.points)
	sigma := own.Belief().SpanSigma
	if own.LooksForBadDays() {
		for i, q := range own.BadDayProbabilities() {
			noise := sigma*sigma + points[i].SD*points[i].SD
			points[i].SD = math.Sqrt(points[i].SD*points[i].SD + noise*q/max(1e-6, 1-q))
		}
	}
	l := level.New(set)
	middle := func() float64 {
		l.Fit(points)
		if s.mark != nil && s.before == len(points) {
			l.Renew()
		}
		return l.Predict(day(at), hour(at), sd).Mean
	}
	step := sigma / 10
	out := make([]float64, len(points))
	for i := range points {
		points[i].Y += step
		up := middle()
		points[i].Y -= 2 * step
		out[i] = (up - middle()) / (2 * step)
		points[i].Y += step
	}
	return out
}

func whyGraded(c Compared, sign vitals.Sign, f vitals.Finding) *WhyGraded {
	now, _ := grade.AnswerOf(&sign, &f)
	return &WhyGraded{
		Chosen: c.Chosen, Exams: c.Basis.Exams, Seen: c.Seen, Usual: c.Usual, UsualSeen: c.UsualSeen,
		Assumed: grade.PriorTail[min(now.Rank, len(grade.PriorTail)-1)], Worth: grade.Weight, Prior: c.Basis.Prior, P: c.P, Level: alpha,
	}
}

// why says how the pieces were put together.
func (e evidence) why(o Overall) WhyExam {
	x := WhyExam{P: o.P, Level: o.Level, Strong: sidak(len(e.contributions)), Unusual: o.Unusual}
	for i, p := range e.contributions {
		if slices.ContainsFunc(e.contributions[:i], func(q contribution) bool { return q.sign == p.sign }) {
			continue
		}
		var ps []float64
		for _, q := range e.contributions[i:] {
			if q.sign == p.sign {
				ps = append(ps, q.p)
			}
		}
		part := WhyPart{Sign: catalogue.Signs()[p.sign].ID, P: slices.Min(ps)}
		if len(ps) > 1 {
			part.Sites = len(ps)
		}
		at := len(x.Parts)
		for at > 0 && x.Parts[at-1].P > part.P {
			at--
		}
		x.Parts = slices.Insert(x.Parts, at, part)
	}
	return x
}

// Normal is what is usual for the horse of one measured sign, and all that it was worked out
// from, so that a reader can follow it.
type Normal struct {
	Sign  vitals.SignID `json:"sign"`
	Site  vitals.SiteID `json:"site,omitempty"`
	At    time.Time     `json:"at"`
	Own   Interval      `json:"own"`
	Basis Basis         `json:"basis"`
	// Before is the interval before the first exam, from what is published and assumed.
	Before  Interval  `json:"before"`
	Printed []Printed `json:"printed,omitempty"`
	// Readings are the horse's own that taught it, oldest first.
	Readings []Learned `json:"readings,omitempty"`
}

// Normal gives what is usual of a measured sign at a time, taken in the most precise common way; site matters
// only for a sign with a normal for each site. ok is false for a sign of which nothing
// says what is usual.
func (b *Baseline) Normal(id vitals.SignID, site vitals.SiteID, at time.Time) (n Normal, ok bool) {
	sign, ok := vitals.Lookup(id)
	if !ok {
		return Normal{}, false
	}
	p, ok := priorOf(id, b.horse.Type)
	if !ok || p.grown && growing(b.horse, at) {
		return Normal{}, false
	}
	exams, _ := b.trainingAt(at, "")
	s := b.history(sign, site, p, at, exams)
	if p.own && len(s.points) == s.before {
		return Normal{}, false
	}
	sd := s.preciseSD()
	stage, _ := b.horse.StageAt(at)
	own := s.fit(at)
	return Normal{
		Sign: id, Site: s.site, At: at,
		Own:      *s.interval(own.Predict(day(at), hour(at), sd)),
		Before:   *s.interval(level.Fit(s.setting(at), nil).Predict(day(at), hour(at), sd)),
		Basis:    s.basis(s.prior.provenance()),
		Printed:  printed(sign, b.horse.Type, stage),
		Readings: s.odds(own),
	}, true
}
