package recovery

import (
	"math"
	"strconv"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Say tells a recovery in sentences: the horse's own comparison first, then each limit
// with the criteria that use it.
func (r Recovery) Say(l words.Lang) []string {
	var out []string
	say := func(key string, args ...string) { out = append(out, words.Say(l, key, args...)) }
	for _, o := range r.Own {
		out = append(out, o.Say(l))
	}
	if len(r.Own) > 0 {
		say("recovery.own.basis")
	}
	told := map[float64]bool{}
	for _, a := range r.Criteria {
		limit := a.Criterion.AtMost
		if told[limit] {
			continue
		}
		told[limit] = true
		out = append(out, a.Reached.Say(l, limit)...)
		if a.Reached.State == NoCount {
			return out
		}
		for _, b := range r.Criteria {
			if b.Criterion.AtMost == limit {
				out = append(out, b.Say(l))
			}
		}
	}
	if len(r.Criteria) > 0 {
		say("recovery.inspection")
	}
	for _, t := range r.Trots {
		out = append(out, t.Say(l)...)
	}
	for _, in := range r.Inversions {
		out = append(out, in.Say(l))
	}
	return out
}

// Say tells the moment with both rates, and that sources disagree on it.
func (in Inversion) Say(l words.Lang) string {
	return words.Say(l, "recovery.inversion", "minutes", vitals.Decimals(in.Minutes, 0), "breath", vitals.Decimals(in.Breath.Rate, 0), "heart", vitals.Decimals(in.Heart.Rate, 0))
}

// Say tells when the limit was reached, in a rate a minute.
func (r Reached) Say(l words.Lang, limit float64) []string {
	var rng string
	switch minutes := func(x *float64) string { return vitals.Decimals(*x, 0) }; {
	case r.Low != nil && r.High != nil:
		rng = words.Say(l, "recovery.range", "low", minutes(r.Low), "high", minutes(r.High))
	case r.Low != nil:
		rng = words.Say(l, "recovery.range-low", "low", minutes(r.Low))
	case r.High != nil:
		rng = words.Say(l, "recovery.range-high", "high", minutes(r.High))
	default:
		rng = words.Say(l, "recovery.range-none")
	}
	args := []string{"limit", vitals.Decimals(limit, 0), "minutes", vitals.Decimals(r.Minutes, 0), "range", rng}
	out := []string{words.Say(l, "recovery."+string(r.State), args...)}
	if r.RoseAgain {
		out = append(out, words.Say(l, "recovery.rose-again", args...))
	}
	return out
}

// Say tells one criterion, with the chance where it is not clear and with how far its text can be trusted.
func (a CriterionAnswer) Say(l words.Lang) string {
	k := a.Criterion
	s := words.Say(l, "recovery.within."+string(a.Within), "criterion", words.Say(l, "recovery.criterion."+string(k.ID)), "within", strconv.Itoa(k.WithinMinutes))
	if a.Chance != nil && *a.Chance > .025 && *a.Chance < .975 {
		s += " " + words.Say(l, "recovery.chance", "p", vitals.Decimals(100**a.Chance, 0))
	}
	if k.Mark == vitals.Memory || k.Mark == vitals.SecondHand {
		s += " " + words.Say(l, "recovery.mark."+string(k.Mark))
	}
	return s
}

// Say tells one comparison with the horse's own recoveries.
func (o RecoveryCompared) Say(l words.Lang) string {
	args := []string{"value", vitals.Decimals(o.Value, 0), "n", strconv.Itoa(o.Basis.Exams), "bound", words.Say(l, "recovery.bound."+strconv.Itoa(o.Bound))}
	if o.Own != nil {
		args = append(args, "low", vitals.Decimals(o.Own.Low, 0), "high", vitals.Decimals(o.Own.High, 0))
	}
	return words.Say(l, "recovery.own."+string(o.Quantity)+"."+string(o.Statement), args...)
}

// Say tells the difference after a trot-out, and what each definition that it fits makes of it.
func (a TrotAnswer) Say(l words.Lang) []string {
	key := "recovery.trot.same"
	switch {
	case math.Round(a.Difference) > 0:
		key = "recovery.trot.higher"
	case math.Round(a.Difference) < 0:
		key = "recovery.trot.lower"
	}
	out := []string{words.Say(l, key, "size", vitals.Decimals(math.Abs(a.Difference), 0), "sd", vitals.Decimals(a.SD, 1),
		"hr0", vitals.Decimals(a.TrotOut.HR0.Value, 0), "hr1", vitals.Decimals(a.TrotOut.HR1.Value, 0))}
	if len(a.Fits) == 0 {
		return append(out, words.Say(l, "recovery.trot.none"))
	}
	for _, f := range a.Fits {
		args := []string{"definition", words.Say(l, "recovery.trot."+f.Definition.ID)}
		switch again := f.Definition.AgainMinutes; {
		case f.Notice == nil:
			key = "recovery.trot.fits"
		case !*f.Notice:
			key = "recovery.trot.no-notice"
		case len(again) == 2:
			key = "recovery.trot.again"
			args = append(args, "from", strconv.Itoa(again[0]), "to", strconv.Itoa(again[1]))
		default:
			key = "recovery.trot.notice"
		}
		out = append(out, words.Say(l, key, args...))
	}
	return out
}

// Why says what stands behind what is told of a recovery.
func (r Recovery) Why(l words.Lang) []string {
	var out []string
	say := func(key string, args ...string) { out = append(out, words.Say(l, key, args...)) }
	if len(r.Heart) > 0 {
		say("why.recovery.counts", "n", strconv.Itoa(len(r.Heart)))
	}
	if len(r.Criteria) > 0 {
		say("why.recovery.criteria", "n", strconv.Itoa(len(r.Criteria)))
		for _, a := range r.Criteria {
			if a.Criterion.Mark != vitals.Read {
				say("why.recovery.marks")
				break
			}
		}
	}
	for _, o := range r.Own {
		if o.Basis.Exams > 0 {
			say("why.recovery.own", "n", strconv.Itoa(o.Basis.Exams))
			break
		}
	}
	if len(r.Trots) > 0 {
		say("why.recovery.trots")
	}
	return out
}
