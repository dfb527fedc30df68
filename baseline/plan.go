package baseline

import (
	"cmp"
	"math"
	"slices"
	"time"

	"whorl.example/baseline/internal/catalogue"
	"whorl.example/baseline/internal/grade"
	"whorl.example/baseline/internal/level"
	"whorl.example/baseline/internal/stable"
	"whorl.example/vitals"
)

// planGoal is how near the interval's width must come to the attainable one.
const planGoal = 1.10

// planLead are the signs that decide how many exams a plan needs; what else an exam looks
// at is learned beside them.
var planLead = []vitals.SignID{vitals.HeartRate, vitals.RespiratoryRate, vitals.RectalTemperature}

// planMost bounds the exams of a plan.
const planMost = 40

// PracticePlan is how often to examine a new horse on quiet days. Widths are those of the
// interval of 95 of 100 readings, on a day long after the last exam, as the model expects
// them before the first exam.
type PracticePlan struct {
	// Exams is the least number, spread evenly, after which every lead sign is within 10 %
	// of its attainable width, EveryDays the spacing and Days the whole span.
	Exams     int     `json:"exams"`
	EveryDays float64 `json:"everyDays"`
	Days      float64 `json:"days"`
	// Reached is false where no plan inside the span and of at most 40 exams gets there;
	// the plan is then the weekly one, cut at 40.
	Reached bool `json:"reached"`
	// Ratio is the width over the attainable one after the plan, the worst of the lead signs.
	Ratio float64 `json:"ratio"`
	// Signs are the lead signs, the one that gains most first.
	Signs []PlannedSign `json:"signs"`
	// Others are other ways to spend the same number of exams, for comparison.
	Others []OtherPlan `json:"others"`
	// Graded is how many exams it takes before a mild change of a graded sign (the usual
	// answer to the next) can be called rare for this horse.
	Graded int `json:"graded"`
	// Growing: under three years; what is usual moves meanwhile, and the widths leave that out.
	Growing bool `json:"growing,omitempty"`
}

// PlannedSign is what a plan teaches of one sign, in the sign's unit.
type PlannedSign struct {
	Sign vitals.SignID `json:"sign"`
	Unit vitals.Unit   `json:"unit"`
	// Before is the width with no exam, After with the plan's, Attainable that of a horse
	// known completely.
	Before     float64 `json:"before"`
	After      float64 `json:"after"`
	Attainable float64 `json:"attainable"`
	// Exams is the number at the plan's span that this sign alone would need; 0 if more than 40.
	Exams int                 `json:"exams"`
	Prior []vitals.Provenance `json:"prior"`
}

// OtherPlan is another way to spend the same number of exams: Ratio is the width over the
// attainable one, the worst of the lead signs, Days the span it takes.
type OtherPlan struct {
	ID        string  `json:"id"` // "daily", "at-once", "monthly"
	EveryDays float64 `json:"everyDays"`
	Days      float64 `json:"days"`
	Ratio     float64 `json:"ratio"`
}

// plannedSign is a lead sign with its model.
type plannedSign struct {
	sign  vitals.Sign
	prior prior
	row   row
	model planModel
	sd    float64
}

func (b *Baseline) plannedSigns(at time.Time) []plannedSign {
	var out []plannedSign
	for _, id := range planLead {
		sign, known := vitals.Lookup(id)
		p, ok := priorOf(id, b.horse.Type)
		if !known || !ok {
			continue
		}
		r := p.at(ageDays(b.horse, at))
		out = append(out, plannedSign{sign, p, r, newPlanModel(r, p.drift), p.scaleSD(p.unscale(r.m0), precise(id))})
	}
	return out
}

// wide takes a width of the scale to the sign's unit, about the middle of the population.
func (p plannedSign) wide(w float64) float64 {
	return p.prior.unscale(p.row.m0+w/2) - p.prior.unscale(p.row.m0-w/2)
}

// every lays n exams evenly over a span.
func every(n int, span float64) []float64 {
	days := make([]float64, n)
	for i := range days {
		if n > 1 {
			days[i] = span * float64(i) / float64(n-1)
		}
	}
	return days
}

// PracticePlan gives the plan with the fewest exams inside withinDays (7 to 730; 0 for
// 182) for a horse of this one's type and age, as if no exam were known yet.
// The daily rhythm of temperature is taken as known, which it nearly is from the prior.
func (b *Baseline) PracticePlan(at time.Time, withinDays int) PracticePlan {
	if withinDays == 0 {
		withinDays = 182
	}
	span := float64(min(max(withinDays, 7), 730))
	signs := b.plannedSigns(at)
	plan := PracticePlan{Graded: gradedExams(), Days: span, Reached: len(signs) > 0, Growing: growing(b.horse, at)}
	needs := make([]int, len(signs))
	for i, s := range signs {
		needs[i] = s.needs(span)
		plan.Exams = max(plan.Exams, needs[i])
		plan.Reached = plan.Reached && needs[i] > 0
	}
	if !plan.Reached {
		plan.Exams = min(planMost, int(span/7)+1)
	}
	if plan.Exams > 1 {
		plan.EveryDays = span / float64(plan.Exams-1)
	}
	days := every(plan.Exams, span)
	for i, s := range signs {
		plan.Signs = append(plan.Signs, PlannedSign{
			Sign: s.sign.ID, Unit: s.sign.Unit, Exams: needs[i], Prior: s.prior.provenance(),
			Before: s.wide(s.model.width(nil, s.sd)), After: s.wide(s.model.width(days, s.sd)), Attainable: s.wide(s.model.attainable(s.sd)),
		})
	}
	sortByGain(plan.Signs)
	plan.Ratio = worst(signs, days)
	for _, o := range []OtherPlan{{ID: "at-once"}, {ID: "daily", EveryDays: 1}, {ID: "monthly", EveryDays: 30}} {
		o.Days = float64(plan.Exams-1) * o.EveryDays
		o.Ratio = worst(signs, every(plan.Exams, o.Days))
		plan.Others = append(plan.Others, o)
	}
	return plan
}

// worst is the greatest width over the attainable one.
func worst(signs []plannedSign, days []float64) (ratio float64) {
	for _, s := range signs {
		ratio = max(ratio, s.model.width(days, s.sd)/s.model.attainable(s.sd))
	}
	return ratio
}

// needs is the least number of exams over a span that reaches the goal; 0 if more than
// planMost. More exams over the same span never teach less, so it can be halved down to.
func (p plannedSign) needs(span float64) int {
	goal := planGoal * p.model.attainable(p.sd)
	enough := func(n int) bool { return p.model.width(every(n, span), p.sd) <= goal }
	lo, hi := 0, 1
	for !enough(hi) {
		if hi == planMost {
			return 0
		}
		lo, hi = hi, min(2*hi, planMost)
	}
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; enough(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

// gradedExams is the least n of exams with the usual answer for which the next answer has
// a probability under [level]: Dirichlet with gradeWeight exams' worth of prior.
func gradedExams() int {
	for n := 0; ; n++ {
		if rare(1, grade.Weight*grade.PriorTail[1]/(grade.Weight+float64(n))) {
			return n
		}
	}
}

// Teaching is what the next quiet exam would do for a sign.
type Teaching struct {
	Sign vitals.SignID `json:"sign"`
	Site vitals.SiteID `json:"site,omitempty"`
	Unit vitals.Unit   `json:"unit"`
	// Width is the width of the interval 30 days on without a further exam, in the unit.
	Width float64    `json:"width"`
	Next  []NextExam `json:"next"`
}

// NextExam is an exam so many days from now and the width it may be expected to leave.
type NextExam struct {
	InDays int     `json:"inDays"`
	Width  float64 `json:"width"`
	// Narrower is the share of the width that it takes away, 0 to 1; below 0 where the
	// exam would teach mostly that the horse varies more than was thought.
	Narrower float64 `json:"narrower"`
}

// teachingHorizon is the day on which the widths are compared: far enough that the nearness of
// the last exam is not what counts.
const teachingHorizon = 30 * 24 * time.Hour

// teachingDelays are the days from now that are compared.
var teachingDelays = []int{0, 1, 7}

// teachingNodes readings stand for all that the next exam may read: the middles of so many
// parts of its Mixture distribution with equal probability.
const teachingNodes = 16

// NextTeaches says how much a quiet exam now, tomorrow or in a week would narrow the interval
// of each lead sign, in expectation over what it may read, given the exams so far.
func (b *Baseline) NextTeaches(at time.Time) []Teaching {
	exams, _ := b.trainingAt(at, "")
	var out []Teaching
	for _, p := range b.plannedSigns(at) {
		s := b.history(p.sign, "", p.prior, at, exams)
		then := at.Add(teachingHorizon)
		width := func(points []level.Reading) float64 {
			lo, hi := level.Fit(s.setting(at), points).Predict(day(then), hour(then), p.sd).Limits(.95)
			return p.prior.unscale(hi) - p.prior.unscale(lo)
		}
		t := Teaching{Sign: p.sign.ID, Unit: p.sign.Unit, Width: width(s.points)}
		for _, d := range teachingDelays {
			when := at.AddDate(0, 0, d)
			next := s.fit(at).Predict(day(when), hour(when), p.sd)
			n := NextExam{InDays: d}
			for i := range teachingNodes {
				y := next.Quantile((float64(i) + .5) / teachingNodes)
				more := append(slices.Clone(s.points), level.Reading{Day: day(when), Hour: hour(when), Y: y, SD: p.sd, ID: "next", Way: 1})
				n.Width += width(more) / teachingNodes
			}
			n.Narrower = 1 - n.Width/t.Width
			if math.IsNaN(n.Narrower) {
				n.Narrower = 0
			}
			t.Next = append(t.Next, n)
		}
		out = append(out, t)
	}
	return out
}

// sortByGain puts the sign first whose interval narrows by the greatest share.
func sortByGain(signs []PlannedSign) {
	stable.Sort(signs, func(a, b PlannedSign) int {
		return cmp.Compare(a.After/a.Before, b.After/b.Before)
	})
}

// The rhythm of [PracticePlan] for half a year, which comes out alike for every type and age
// (12 exams, 16 or 17 days apart). It takes the plan half a second
// to work out, which a barn's list cannot wait for; a test holds these to it.
const (
	practiceExams = 12
	practiceEvery = 17 * 24 * time.Hour
	// practiceFoal is the rhythm under six months, where what is usual moves by the week (assumed).
	practiceFoal = 7 * 24 * time.Hour
	// practiceKept is the rhythm once the plan is done: the level drifts over weeks (assumed).
	practiceKept = 30 * 24 * time.Hour
)

// Due is when a horse should next be examined on a quiet day, and what no such exam has
// measured yet.
type Due struct {
	// Exams is how many exams teach, Planned how many the plan has; LastAt the newest of them.
	Exams   int       `json:"exams"`
	Planned int       `json:"planned"`
	LastAt  time.Time `json:"lastAt,omitzero"`
	// At is when the next one is due; zero: no exam teaches yet, and the first is due now.
	At time.Time `json:"at,omitzero"`
	// Now: it is due at the time asked for.
	Now       bool `json:"now"`
	EveryDays int  `json:"everyDays"`
	// Unknown are the signs of which no exam that teaches has a value, in the catalogue's
	// order: every sign that has an interval, and the graded ones of the walk-up and of the hands.
	Unknown []vitals.SignID `json:"unknown,omitempty"`
}

// Due says when the next practice exam of the horse is due, seen from a time. The error of
// PracticePlan's rhythm is that of its assumptions.
func (b *Baseline) Due(at time.Time) Due {
	exams, _ := b.trainingAt(at, "")
	every := practiceEvery
	stage, _ := b.horse.StageAt(at)
	switch {
	case stage == vitals.Newborn || stage == vitals.Neonate || stage == vitals.Foal:
		every = practiceFoal
	case len(exams.summaries) >= practiceExams:
		every = practiceKept
	}
	d := Due{Exams: len(exams.summaries), Planned: practiceExams, Now: true, EveryDays: int(every / (24 * time.Hour))}
	if n := len(exams.summaries); n > 0 {
		d.LastAt = exams.summaries[n-1].at
		d.At = d.LastAt.Add(every)
		d.Now = !at.Before(d.At)
	}
	for _, sign := range catalogue.Signs() {
		if b.practised(sign, at) && !slices.ContainsFunc(exams.summaries, func(n *summary) bool { return n.shows(sign.ID) }) {
			d.Unknown = append(d.Unknown, sign.ID)
		}
	}
	return d
}

// practised reports whether a sign is one of which a usual value is worth knowing.
func (b *Baseline) practised(sign vitals.Sign, at time.Time) bool {
	if sign.Kind.Measured() {
		p, ok := priorOf(sign.ID, b.horse.Type)
		return ok && !(p.grown && growing(b.horse, at))
	}
	// What is asked of a foal, of foaling or of work alone is no matter of a quiet day.
	return sign.Kind == vitals.KindGrade && sign.Depth != vitals.Full && sign.Applies == nil
}
