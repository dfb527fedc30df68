package baseline

import (
	"strconv"
	"strings"
	"time"

	"whorl.example/vitals"
)

// lesson says whether an exam teaches anything at all, by itself.
func (b *Baseline) lesson(e vitals.Exam) Lesson {
	reason := b.refusal(e)
	return Lesson{Exam: e.ID, Taught: reason == "", Reason: reason}
}

// refusal is why an exam teaches nothing, by itself, or "". Only finished exams teach, labelled as well
// and at rest by the handler: nothing is guessed from the purpose or the numbers, with
// one exception. Where a published "ring now" rule fired, the label and the rule
// contradict each other, and what is usual is not widened by it.
func (b *Baseline) refusal(e vitals.Exam) string {
	switch {
	case e.Status != vitals.Finished:
		return LessonDraft
	case e.Wellness == vitals.Unwell:
		return LessonUnwell
	case e.Wellness != vitals.Well:
		return LessonNotLabelled
	}
	switch e.State.Condition {
	case vitals.AtRest:
	case vitals.AfterWork:
		return LessonAfterWork
	case vitals.Excited:
		return LessonExcited
	case vitals.Medicated:
		return LessonMedicated
	default:
		return LessonNotLabelled
	}
	found := false
	for _, f := range e.Findings {
		found = found || f.Absent == ""
	}
	if !found {
		return LessonEmpty
	}
	for _, fired := range vitals.FiredAlarms(b.horse, e) {
		if fired.Urgency == vitals.RingNow {
			return LessonAlarm
		}
	}
	return ""
}

// quiet reports whether an exam teaches, once it is finished.
func (b *Baseline) quiet(e vitals.Exam) bool {
	e.Status = vitals.Finished
	return b.refusal(e) == ""
}

// taught gives the exams that teach what is usual at a time, oldest first, and what is to
// be said of each of the others. Only exams before that time teach: what was said of a
// night stays what it was when later exams arrive. An exam compared never teaches itself.
func (b *Baseline) taught(at time.Time, compared vitals.ID) (exams []vitals.Exam, lessons []Lesson) {
	now := ageDays(b.horse, at)
	seen := make(map[string]bool)
	for _, e := range b.exams {
		if e.ID == compared {
			continue
		}
		l := b.lesson(e)
		if l.Taught {
			print := fingerprint(e)
			switch {
			case !e.At.Before(at):
				l.Reason = LessonLater
			case !sameAge(ageDays(b.horse, e.At), now):
				l.Reason = LessonAnotherStage
			case seen[print]:
				l.Reason = LessonDuplicate
			}
			seen[print] = true
			l.Taught = l.Reason == ""
		}
		if l.Taught {
			exams = append(exams, e)
		}
		lessons = append(lessons, l)
	}
	return exams, lessons
}

// fingerprint is what an exam says, without its ID: two exams that agree in it are one
// exam entered or brought in twice.
func fingerprint(e vitals.Exam) string {
	var s strings.Builder
	put := func(parts ...string) {
		for _, p := range parts {
			s.WriteString(p)
			s.WriteByte(0)
		}
	}
	num := func(n int) string { return strconv.Itoa(n) }
	put(strconv.FormatInt(e.At.UnixNano(), 10), string(e.Status), string(e.Wellness), string(e.State.Condition), e.State.With)
	for _, f := range e.Findings {
		put("finding", string(f.Sign), string(f.Site), num(f.Minutes), string(f.Absent), f.Note)
		if c := f.Count; c != nil {
			put("count", num(c.Events), num(c.Seconds), string(c.Start))
		}
		if t := f.Taps; t != nil {
			put("taps")
			for _, ms := range t.AtMS {
				put(num(ms))
			}
		}
		if r := f.Reading; r != nil {
			put("reading", r.Value.String(), string(r.Unit), string(r.Device), r.Label)
		}
		if t := f.Timed; t != nil {
			put("timed", strconv.FormatBool(t.Aloud))
			for _, cs := range t.CentiSeconds {
				put(num(cs))
			}
		}
		if g := f.Girth; g != nil {
			put("girth", g.Girth.String(), g.Length.String(), string(g.Unit))
		}
		for _, c := range f.Chosen {
			put("chosen", string(c))
		}
		for _, w := range f.Where {
			put("where", string(w))
		}
	}
	return s.String()
}

// series is the horse's own history of one sign (at one site, where each has its own normal).
type series struct {
	horse vitals.Horse
	sign  vitals.Sign
	site  vitals.SiteID // only of a sign with PerSite
	prior prior
	row   row // of the age at the time compared
	exams []Learned
	from  []vitals.Finding // the finding of each
	// points are the readings on the prior's scale, brought to the present age.
	points []point
	// mark is the answer that this is a new usual, if one holds; before is how many of the
	// points are from before it.
	mark   *vitals.NewUsual
	before int
}

// history gathers what the exams taught of a measured sign at a time. Of an exam that measured it
// more than once the most precise reading teaches: two counts within minutes are not two days.
func (b *Baseline) history(sign vitals.Sign, site vitals.SiteID, p prior, at time.Time, exams []vitals.Exam) series {
	s := series{horse: b.horse, sign: sign, prior: p, row: p.at(ageDays(b.horse, at))}
	if sign.PerSite {
		s.site = site
	}
	for _, e := range exams {
		var best *vitals.Finding
		var measure vitals.Measure
		for i := range e.Findings {
			f := &e.Findings[i]
			if f.Sign != sign.ID || f.Absent != "" || sign.PerSite && f.Site != site {
				continue
			}
			m, err := b.measure(sign, *f, e.At)
			if err != nil || best != nil && m.SD >= measure.SD {
				continue
			}
			best, measure = f, m
		}
		if best == nil {
			continue
		}
		when := e.At.Add(time.Duration(best.Minutes) * time.Minute)
		y, sd, ok := p.scale(measure)
		if !ok {
			continue
		}
		s.exams = append(s.exams, Learned{Exam: e.ID, At: when, Value: measure.Value, SD: measure.SD})
		s.from = append(s.from, *best)
		s.points = append(s.points, point{
			Day: day(when), Hour: hour(when), SD: sd, ID: string(e.ID),
			Y: y - p.at(ageDays(b.horse, when)).m0 + s.row.m0,
		})
	}
	s.order()
	s.since(at)
	return s
}

// order puts the readings in their order in time; the exams' order is that, but for readings
// minutes after an exam began.
func (s *series) order() {
	for i := range s.points {
		for j := i; j > 0 && orderOf(s.points[j], s.points[j-1]) < 0; j-- {
			s.points[j], s.points[j-1] = s.points[j-1], s.points[j]
			s.exams[j], s.exams[j-1] = s.exams[j-1], s.exams[j]
			s.from[j], s.from[j-1] = s.from[j-1], s.from[j]
		}
	}
}

// measure computes a finding of an exam of this horse.
func (b *Baseline) measure(sign vitals.Sign, f vitals.Finding, at time.Time) (vitals.Measure, error) {
	stage, _ := b.horse.StageAt(at)
	return f.MeasureFor(sign, b.horse.Type, stage)
}

// day is the time in days.
func day(t time.Time) float64 { return float64(t.Unix()) / 86400 }

// hour is the hour of the day, 0 to 24, where the horse stands.
func hour(t time.Time) float64 {
	h, m, s := t.Clock()
	return float64(h) + float64(m)/60 + float64(s)/3600
}
