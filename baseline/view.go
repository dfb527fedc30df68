package baseline

import (
	"slices"
	"sync"
	"time"

	"whorl.example/baseline/internal/grade"
	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

// trainingSet is the summaries that teach at some time, oldest first, and what has been worked out from
// them. It is a cache: the summaries decide everything in it.
type trainingSet struct {
	horse     vitals.Horse
	summaries []*summary

	mu        sync.Mutex
	histories map[place]*series
	graded    map[place]*grades
	pasts     []past

	once  sync.Once // wells holds
	wells countable
}

// trainingSets are the latest of them: one for the present, one or two for an exam that is compared again.
type trainingSets struct {
	mu  sync.Mutex
	all []*trainingSet // latest first
}

const trainingSetsKept = 4

func (v *trainingSets) of(horse vitals.Horse, notes []*summary) *trainingSet {
	v.mu.Lock()
	defer v.mu.Unlock()
	i := slices.IndexFunc(v.all, func(w *trainingSet) bool { return slices.Equal(w.summaries, notes) })
	if i < 0 {
		v.all = slices.Insert(v.all, 0, &trainingSet{horse: horse, summaries: slices.Clone(notes)})
		v.all = v.all[:min(len(v.all), trainingSetsKept)]
		i = 0
	}
	w := v.all[i]
	copy(v.all[1:i+1], v.all[:i])
	v.all[0] = w
	return w
}

func (v *trainingSets) forget() {
	v.mu.Lock()
	defer v.mu.Unlock()
	v.all = nil
}

// trainingAt gives the exams that teach what is usual at a time, and what is to
// be said of each of the others. Only exams before that time teach: what was said of a
// night stays what it was when later exams arrive. An exam compared never teaches itself. None
// teaches what is usual at a time that cannot be right.
func (b *Baseline) trainingAt(at time.Time, compared vitals.ID) (*trainingSet, []Lesson) {
	now, misdated := ageDays(b.horse, at), b.horse.DateDoubt(at) != vitals.DateSound
	lessons := make([]Lesson, 0, len(b.summaries))
	notes := make([]*summary, 0, len(b.summaries))
	for i, n := range b.summaries {
		if n.id == compared {
			continue
		}
		l := Lesson{Exam: n.id, Reason: n.reason}
		if l.Reason == "" {
			switch {
			case misdated:
				l.Reason = LessonMisdated
			case !n.at.Before(at):
				l.Reason = LessonLater
			case !sameAge(n.age, now):
				l.Reason = LessonAnotherStage
			case b.twice(i, compared):
				l.Reason = LessonDuplicate
			}
			if l.Taught = l.Reason == ""; l.Taught {
				notes = append(notes, n)
			}
		}
		lessons = append(lessons, l)
	}
	return b.views.of(b.horse, notes), lessons
}

// twice reports whether an exam before it says the same, which is then one of the same moment.
func (b *Baseline) twice(i int, compared vitals.ID) bool {
	n := b.summaries[i]
	for i--; i >= 0 && b.summaries[i].at.Equal(n.at); i-- {
		if o := b.summaries[i]; o.reason == "" && o.id != compared && o.fingerprint() == n.fingerprint() {
			return true
		}
	}
	return false
}

// history gives what the exams taught of a measured sign at a time. It is shared, and not to be changed.
func (b *Baseline) history(sign vitals.Sign, site vitals.SiteID, p prior, at time.Time, v *trainingSet) *series {
	where := placeOf(&sign, site)
	row, from := b.rowAt(p, ageDays(b.horse, at))
	middle := p.at(ageDays(b.horse, at)).m0 // of the age, whatever a herd says
	mark, marked := b.horse.UsualFrom(where.sign, where.site, at)
	v.mu.Lock()
	defer v.mu.Unlock()
	if s := v.histories[where]; s != nil && s.row == row && (s.mark != nil) == marked && (!marked || *s.mark == mark) {
		return s
	}
	s := &series{horse: b.horse, sign: sign, site: where.site, prior: p, from: from, row: row, fits: new(level.Cache), questions: new(questions)}
	s.exams, s.points = make([]Learned, 0, len(v.summaries)), make([]level.Reading, 0, len(v.summaries))
	then, m0 := -1., p.at(-1).m0 // of the age at the reading before
	i := 0
	var before *measured
	keys, people := make([]string, 0, len(v.summaries)), make([]string, 0, len(v.summaries))
	for _, n := range v.summaries {
		// Mostly where it was in the exam before.
		if i < 0 || i >= len(n.readings) || n.readings[i].place != where {
			i = slices.IndexFunc(n.readings, func(t measured) bool { return t.place == where })
		}
		if i < 0 {
			continue
		}
		t := &n.readings[i]
		y, sd, ok := p.scale(vitals.Measure{Value: t.value, SD: t.sd})
		if !ok {
			continue
		}
		if age := p.grownAge(t.age); age != then {
			then, m0 = age, p.at(age).m0
		}
		s.exams = append(s.exams, Learned{Exam: n.id, At: t.when, Value: t.value, SD: t.sd})
		if before == nil || t.from != before.from || t.reading != before.reading {
			if way := t.way(); !slices.Contains(s.ways, way) {
				s.ways = append(s.ways, way)
			}
		}
		before = t
		s.points = append(s.points, level.Reading{
			Day: t.day, Hour: t.hour, SD: sd, ID: string(n.id),
			Y: y - m0 + middle,
		})
		keys, people = append(keys, takenBy(&sign, t.reading, n.by)), append(people, n.by)
	}
	s.countWays(keys, people)
	s.order()
	if marked {
		s.since(mark)
	}
	if v.histories == nil {
		v.histories = make(map[place]*series)
	}
	v.histories[where] = s
	return s
}

// grades is what the exams showed of a graded sign.
type grades struct {
	own   []grade.Answer
	first []time.Time      // when the visit of each began
	usual []vitals.GradeID // shown most often
	seen  int              // in so many exams
	by    byWhom
}

// grades gives what the exams showed of a graded sign.
func (v *trainingSet) grades(sign vitals.Sign, site vitals.SiteID) *grades {
	where := placeOf(&sign, site)
	v.mu.Lock()
	defer v.mu.Unlock()
	if g := v.graded[where]; g != nil {
		return g
	}
	g := &grades{own: make([]grade.Answer, 0, len(v.summaries)), first: make([]time.Time, 0, len(v.summaries))}
	i := 0
	var first time.Time // of the visit
	people := make([]string, 0, len(v.summaries))
	for _, n := range v.summaries {
		// Mostly where it was in the exam before.
		if i < 0 || i >= len(n.answers) || n.answers[i].place != where {
			i = slices.IndexFunc(n.answers, func(s graded) bool { return s.place == where })
		}
		if i < 0 {
			continue
		}
		people = append(people, n.by)
		// Three looks in an hour are one precedent, the farthest from usual of them.
		if k := len(g.own) - 1; k >= 0 && level.SameVisit(day(n.at)-day(first)) {
			if n.answers[i].Rank > g.own[k].Rank {
				g.own[k] = n.answers[i].Answer
			}
			continue
		}
		g.own, g.first, first = append(g.own, n.answers[i].Answer), append(g.first, n.at), n.at
	}
	g.by.tell(people)
	g.usual, g.seen = grade.Usual(g.own)
	if v.graded == nil {
		v.graded = make(map[place]*grades)
	}
	v.graded[where] = g
	return g
}

// questions are what has been asked of the readings of one series alone, by the setting of its model.
type questions struct {
	mu    sync.Mutex
	asked []question
}

type question struct {
	set      level.Setting
	question *Question
}

// question gives what is asked of the readings alone.
func (f *questions) of(set level.Setting, make func() *Question) *Question {
	f.mu.Lock()
	i := slices.IndexFunc(f.asked, func(k question) bool { return k.set == set })
	if i < 0 {
		f.mu.Unlock()
		q := make() // asks for models
		f.mu.Lock()
		i = len(f.asked)
		f.asked = append(f.asked, question{set, q})
	}
	defer f.mu.Unlock()
	if f.asked[i].question == nil {
		return nil
	}
	q := *f.asked[i].question
	return &q
}
