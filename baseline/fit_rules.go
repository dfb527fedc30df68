package baseline

import (
	"sync"

	"whorl.example/baseline/internal/catalogue"
	"whorl.example/baseline/internal/fingerprint"
	"whorl.example/baseline/internal/level"
	"whorl.example/baseline/internal/whole"
	"whorl.example/vitals"
)

// fitRule is to be raised with every change of what the package works out from the same exams that rules
// does not see by itself: a formula rather than a constant. TestFitRule compares.
const fitRule = 7

// rules is the fingerprint of all that a fit depends on besides the exams.
func (b *Baseline) rules() fingerprint.Hash {
	p := rules()
	h := b.horse
	p.Text(string(h.ID))
	p.Text(string(h.Type))
	p.Text(h.Born.String())
	p.Bool(h.BornYearOnly)
	p.Bool(h.InFoal)
	p.Time(h.BornAt)
	p.Time(h.FoaledAt)
	for _, l := range b.herd {
		p.Text(string(l.sign))
		p.Floats(l.middle, l.tau, l.sigma0, l.omega)
	}
	p.Int(len(h.NewUsual))
	for _, u := range h.NewUsual {
		p.Text(string(u.Sign))
		p.Text(string(u.Site))
		p.Word(uint64(u.From.UnixNano()))
		p.Word(uint64(u.Said.UnixNano()))
		p.Text(u.By)
		p.Bool(u.Not)
		p.Bool(u.Back)
	}
	return p
}

// rules is the part of it that is the same for every horse: grid, priors, constants, alarms.
var rules = sync.OnceValue(func() (p fingerprint.Hash) {
	p.Text(fitMagic)
	p.Int(fitRule)
	p.Floats(level.GridStep, level.GridReach, level.LogNegligible, level.Omega, spanDays, ratioUsual, ratioWarmth, inflation, rhythmAmplitude, rhythmAmplitudeSD,
		rhythmFrom, rhythmTo, rhythmDays, grownDays, stale, level.Early, level.EarlyDays, level.Renewed, level.BadDayShift, level.BadDaySpread, level.FarShare, level.FarShift, level.FarSpread, level.SlipShare, level.SlipSpread, level.StillBelow, level.LogConverged,
		askDays, askMost, askBase, askEach, askTogether, level.TrendOver, level.TrendLeast, level.VisitDays, firstSmall, countedFrom, countedMost, whole.Worth, betweenThermometers, betweenCounters, betweenTimers)
	p.Floats(level.Kappas[:]...)
	p.Floats(level.BadDayRates[:]...)
	p.Floats(level.BadDayPrior[:]...)
	for _, b := range level.Drifts(true) {
		p.Floats(b.Share, b.Days, b.Weight)
	}
	for _, x := range priors {
		p.Text(string(x.sign))
		p.Int(len(x.types))
		for _, t := range x.types {
			p.Text(string(t))
		}
		for _, y := range []bool{x.log, x.rhythm, x.drift, x.grown, x.own, x.odd} {
			p.Bool(y)
		}
		p.Floats(x.ratio)
		for _, s := range x.spans {
			p.Floats(s.days, s.low, s.high)
		}
	}
	for _, s := range catalogue.Signs() {
		p.Text(string(s.ID))
		p.Text(string(s.Kind))
		p.Bool(s.PerSite)
		for _, g := range s.Grades {
			p.Text(string(g.ID))
			p.Int(g.Rank)
		}
	}
	for _, a := range vitals.Alarms() {
		p.Alarm(&a)
	}
	return p
})
