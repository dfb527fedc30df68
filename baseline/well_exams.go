package baseline

import (
	"slices"
	"time"

	"whorl.example/baseline/internal/catalogue"
	"whorl.example/baseline/internal/grade"
	"whorl.example/baseline/internal/level"
	"whorl.example/baseline/internal/whole"
	"whorl.example/vitals"
)

// The horse's own well exams, counted beside an exam. How rare the rarest of many findings is on a well day rests on what is taken of each
// alone; signs that move together, heavy tails and a change of season show in the exams of well days themselves. Each is judged by those before it, as it was then.

const (
	// countedFrom: with fewer visits before it, an exam was judged by what is assumed.
	countedFrom = 3
	// countedMost of them, the latest, are counted.
	countedMost = 24
)

// countable are the exams of a training set that are counted beside a later one: the later half of those with countedFrom visits before them, as far as as much
// was known before them as now.
type countable struct {
	visits int // all of them
	heads  []*summary
	places []place // of which they have readings
	graded []place
}

func (v *trainingSet) countable() *countable {
	v.once.Do(func() {
		c := &v.wells
		var first time.Time
		for _, n := range v.summaries {
			if c.visits == 0 || !level.SameVisit(day(n.at)-day(first)) {
				c.heads, first = append(c.heads, n), n.at
				c.visits++
			}
		}
		from := max(countedFrom+(c.visits-countedFrom)/2, c.visits-countedMost)
		for from < c.visits && whole.Band(from) != whole.Band(c.visits) {
			from++
		}
		c.heads = c.heads[min(from, c.visits):]
		for _, n := range c.heads {
			for i := range n.readings {
				if p := n.readings[i].place; !slices.Contains(c.places, p) {
					c.places = append(c.places, p)
				}
			}
			for i := range n.answers {
				if p := n.answers[i].place; !slices.Contains(c.graded, p) {
					c.graded = append(c.graded, p)
				}
			}
		}
	})
	return &v.wells
}

// past is what was said of the exams counted, as it depends on the series.
type past struct {
	of     []pastSeries
	rarest []float64
}

type pastSeries struct {
	s      *series
	rhythm bool
}

// wellExams gives how rare the rarest finding of each of the exams counted was.
func (b *Baseline) wellExams(v *trainingSet, at time.Time) []float64 {
	c := v.countable()
	if len(c.heads) == 0 {
		return nil
	}
	of := make([]pastSeries, 0, 16)
	for _, where := range c.places {
		sign, _ := catalogue.Lookup(where.sign)
		p, ok := priorOf(where.sign, b.horse.Type)
		if !ok || p.grown && growing(b.horse, at) {
			continue
		}
		s := b.history(sign, where.site, p, at, v)
		of = append(of, pastSeries{s, s.setting(at).Rhythm != nil})
	}
	v.mu.Lock()
	i := slices.IndexFunc(v.pasts, func(p past) bool { return slices.Equal(p.of, of) })
	if i >= 0 {
		defer v.mu.Unlock()
		return v.pasts[i].rarest
	}
	v.mu.Unlock()
	rarest := v.judge(c, of, at) // asks for models
	v.mu.Lock()
	defer v.mu.Unlock()
	v.pasts = append(v.pasts, past{of, rarest})
	return rarest
}

// judge works it out. An exam with a reading that is probably of a bad day is not counted: one such among ten would let as bad a day pass.
func (v *trainingSet) judge(c *countable, of []pastSeries, at time.Time) []float64 {
	found := make([][]whole.Finding, len(c.heads))
	bad := make([]bool, len(c.heads))
	index := make(map[vitals.ID]int, len(c.heads))
	for i, n := range c.heads {
		index[n.id] = i
	}
	for _, p := range of {
		p.s.judged(at, c.heads[0].at, func(id vitals.ID, told float64, odd bool) {
			if i, ok := index[id]; ok {
				found[i] = append(found[i], whole.Finding{P: told})
				bad[i] = bad[i] || odd
			}
		})
	}
	for _, where := range c.graded {
		sign, _ := catalogue.Lookup(where.sign)
		if sign.Context || !grade.Ranked(sign) {
			continue
		}
		g := v.grades(sign, where.site)
		for i, n := range c.heads {
			at := slices.IndexFunc(n.answers, func(a graded) bool { return a.place == where })
			if at < 0 {
				continue
			}
			before, _ := slices.BinarySearchFunc(g.first, n.at, time.Time.Compare)
			own := g.own[:before]
			found[i] = append(found[i], gradedFinding(&sign, n.answers[at].Answer, own))
		}
	}
	rarest := make([]float64, 0, len(found))
	for i := range found {
		if !bad[i] {
			rarest = append(rarest, whole.Rarest(found[i]))
		}
	}
	return rarest
}

// gradedFinding is an answer beside own ones.
func gradedFinding(sign *vitals.Sign, now grade.Answer, own []grade.Answer) whole.Finding {
	f := whole.Finding{P: 1}
	counts := grade.Count(own)
	tails, n := counts.Attainable(sign)
	copy(f.Tails[:], tails[:])
	if f.Graded = n; now.Rank > 0 {
		f.P, _, _ = grade.Tails(*sign, now, own)
	}
	return f
}

// judged says of each reading of the present level, from a time on, how rare it was beside those before it, and whether it is probably of a bad day.
func (s *series) judged(at, from time.Time, say func(id vitals.ID, told float64, odd bool)) {
	first := s.before
	for first < len(s.exams) && s.exams[first].At.Before(from) {
		first++
	}
	if first == 0 && s.prior.own {
		first = 1 // of which nothing is assumed
	}
	if first >= len(s.points) {
		return
	}
	own := s.fit(at)
	exams := s.exams
	if own.LooksForBadDays() {
		odd := own.BadDayProbabilities()
		var points []level.Reading
		var well []Learned
		skipped := 0
		for i := range s.points {
			if odd[i] <= .5 {
				points, well = append(points, s.points[i]), append(well, exams[i])
				continue
			}
			if i < first {
				skipped++
			} else {
				say(exams[i].Exam, 1, true)
			}
		}
		set := s.setting(at)
		set.BadDays = false
		own, exams, first = level.Fit(set, points), well, first-skipped
	}
	own.Before(first, func(i int, told float64) { say(exams[i].Exam, told, false) })
}
