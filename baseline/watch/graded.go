package watch

import (
	"cmp"
	"slices"

	"whorl.example/baseline/internal/grade"
	"whorl.example/vitals"
)

func watchGraded(t vitals.Type, sign vitals.Sign, site vitals.SiteID, run []vitals.Exam) Watched {
	w := Watched{Sign: sign.ID, Site: site}
	for _, e := range run {
		var seen []WatchedAnswer
		for _, f := range e.Findings {
			if !isOf(sign, site, f) {
				continue
			}
			if a, ok := grade.AnswerOf(&sign, &f); ok {
				seen = append(seen, WatchedAnswer{Exam: e.ID, At: findingTime(e, f), Chosen: a.Chosen, Rank: a.Rank,
					Severity: severityOf(t, sign.ID, a.Chosen)})
			}
		}
		if len(seen) == 0 {
			w.Missing++
			continue
		}
		// Of several answers in one exam the worst is its answer.
		w.Answers = append(w.Answers, slices.MaxFunc(seen, func(a, b WatchedAnswer) int {
			return cmp.Or(cmp.Compare(a.order(), b.order()), cmp.Compare(a.Rank, b.Rank), b.At.Compare(a.At), slices.Compare(b.Chosen, a.Chosen))
		}))
	}
	if len(w.Answers) == 0 {
		return w
	}
	last := len(w.Answers) - 1
	w.From, w.To = w.Answers[0].At, w.Answers[last].At
	if !grade.Ranked(sign) || last == 0 {
		return w
	}
	for i := 1; i <= last; i++ {
		w.Answers[i].Step = w.courseOf(w.Answers[i-1], w.Answers[i])
	}
	w.Course = w.courseOf(w.Answers[0], w.Answers[last])
	return w
}

// severityOf is that of the worst behaviour of belly pain among answers.
func severityOf(t vitals.Type, sign vitals.SignID, chosen []vitals.GradeID) (worst int) {
	for _, g := range chosen {
		worst = max(worst, vitals.SeverityOf(t, sign, g))
	}
	return worst
}

// order puts answers of one sign in order: any behaviour of pain is worse than none, and of those the severity decides.
func (a WatchedAnswer) order() int {
	if a.Severity > 0 {
		return 100 * a.Severity
	}
	return a.Rank
}

// courseOf is the course from one answer to another; empty where nothing says which of two is worse.
func (w Watched) courseOf(from, to WatchedAnswer) vitals.Course {
	// A horse that lies may rest, or be in pain.
	lies := func(a WatchedAnswer) bool {
		return w.Sign == vitals.Doing && a.Severity == 0 && slices.Contains(a.Chosen, "lying")
	}
	switch {
	case slices.Equal(from.Chosen, to.Chosen):
		return vitals.Same
	case lies(from) || lies(to):
		return ""
	case to.order() > from.order():
		return vitals.Worse
	case to.order() < from.order():
		return vitals.Better
	case to.order() == 0:
		return vitals.Same
	}
	return ""
}

// withhold is why "better" is not said of a series of rechecks.
type withhold struct {
	alarm bool // a rule says to call now in the newest exam
	eased bool // violent pain stopped from one look to the next, or somebody saw that it did
}

// withholding looks at a run of exams, oldest first.
func withholding(horse vitals.Horse, run []vitals.Exam) (h withhold) {
	if len(run) == 0 {
		return h
	}
	h.alarm = slices.ContainsFunc(vitals.FiredAlarms(horse, run[len(run)-1]), func(f vitals.Fired) bool { return f.Urgency == vitals.RingNow })
	before := 0
	for _, e := range run {
		worst, looked := 0, false
		for _, f := range e.Findings {
			for _, g := range f.Chosen {
				h.eased = h.eased || f.Sign == vitals.PainSigns && g == "eased-suddenly"
				if f.Sign == vitals.Doing || f.Sign == vitals.PainSigns || g == "down-thrashing" {
					worst, looked = max(worst, vitals.SeverityOf(horse.Type, f.Sign, g)), true
				}
			}
		}
		if looked {
			h.eased = h.eased || before >= vitals.ViolentPain && worst == 0
			before = worst
		}
	}
	return h
}

// from takes "better" from a sign's course, and says why.
func (h withhold) from(w *Watched, sign vitals.Sign) {
	eased := h.eased && sign.ShowsPain()
	if !eased && !h.alarm {
		return
	}
	for i := range w.Answers {
		if a := &w.Answers[i]; a.Step == vitals.Better && (eased || i == len(w.Answers)-1) {
			a.Step = ""
		}
	}
	if w.Course != vitals.Better {
		return
	}
	w.Course = ""
	if eased {
		w.warn(WarnWatchEased)
	} else {
		w.warn(WarnWatchAlarm)
	}
}
