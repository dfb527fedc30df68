package level

import (
	"math"

	"whorl.example/baseline/internal/normal"
)

// OffsetOf is what a way adds to a reading.
func (b *Belief) OffsetOf(way uint8) float64 {
	if way == 0 || int(way) > len(b.Ways) {
		return 0
	}
	return b.Ways[way-1]
}

// Belief is what the readings say of the horse, averaged over the grid.
type Belief struct {
	Mu, MuSD    float64 // the horse's own level
	Sigma       float64 // its SD in the long run
	SpanSigma   float64 // its SD within SpanDays
	Phi         float64 // share of the drift in its long-run variance
	Steady      float64 // probability that there is no drift
	LogEvidence float64
	Cos, Sin    float64 // coefficients of the daily rhythm
	Ways        row     // offsets of the ways
}

func (l *Model) Belief() Belief {
	b := Belief{LogEvidence: l.Weigh()}
	square := 0.0
	for i, j := range l.chosen {
		w, s, c := l.weight[i], &l.states[j], &l.cells[j]
		block := &l.grid.blocks[c.block]
		b.Mu += w * s.level
		square += w * (s.varLevel + s.level*s.level)
		b.Sigma += w * math.Sqrt(c.vd+c.ve)
		b.SpanSigma += w * c.sigma
		b.Phi += w * block.Share
		if block.Share == 0 {
			b.Steady += w
		}
		if l.rhythm != nil {
			b.Cos += w * l.harmonics[j].p
			b.Sin += w * l.harmonics[j].q
		}
		for k := range l.Setting.Ways {
			b.Ways[k] += w * l.offsets[j].mean[k]
		}
	}
	b.MuSD = math.Sqrt(max(0, square-b.Mu*b.Mu))
	b.Mu += l.Setting.M0
	return b
}

// Predict says what a reading of the well horse would be on a day, at an hour,
// taken by a method with the standard uncertainty sd. A day before the latest
// reading is taken as the day of that reading. Before the first reading it is
// the population.
func (l *Model) Predict(day, hour, sd float64) *normal.Mixture {
	p := new(normal.Mixture)
	l.PredictInto(p, day, hour, sd)
	return p
}

// PredictInto is predict that uses the room of an earlier answer.
func (l *Model) PredictInto(p *normal.Mixture, day, hour, sd float64) {
	l.PredictBy(p, Reading{Day: day, Hour: hour, SD: sd, Way: 1})
}

// PredictBy is PredictInto for a reading taken in its way; PredictInto is for the first of the ways.
func (l *Model) PredictBy(p *normal.Mixture, of Reading) {
	one := meanReading{n: 1, day: of.Day, variance: of.SD * of.SD, days: 1}
	if l.rhythm != nil {
		one.cos, one.sin = Angle(of.Hour)
	}
	l.addWay(&one, of.Way)
	l.predictMean(p, one)
}

// addWay counts the way of one of the readings.
func (l *Model) addWay(m *meanReading, way uint8) {
	switch {
	case l.Setting.Ways == 0:
	case way > 0 && int(way) <= l.Setting.Ways:
		m.ways[way-1] += 1 / m.n
	default:
		m.variance += l.Setting.Offset * l.Setting.Offset / m.n
	}
}

// meanReading is the mean of n readings: the means of their days, of cosine and sine of their hours, and of the
// variances of their methods; and how many days they are worth.
type meanReading struct {
	n, day, cos, sin, variance, days float64
	ways                             row
}

// predictMean says what such a mean of the well horse would be. The drift is taken as it is in the middle of the days,
// which is a little too wide: over them some of it averages out.
func (l *Model) predictMean(p *normal.Mixture, of meanReading) {
	n, day, cos, sin := of.n, of.day, of.cos, of.sin
	l.Weigh()
	p.Reset(l.Setting.M0)
	dt := 0.0
	if l.n > 0 {
		dt = l.ahead(max(0, day-l.last))
	}
	v := of.variance / n
	walk := l.walked(day)
	block, r, noise := -1, 1.0, 1/of.days
	parts, weight := p.Room(len(l.chosen)), l.weight[:len(l.chosen)]
	k := 0
	for i, j := range l.chosen {
		w, c, s := weight[i], &l.cells[j], &l.states[j]
		if w == 0 {
			continue
		}
		if c.block != block {
			block = c.block
			r = math.Exp(-dt / l.grid.blocks[block].Days)
		}
		mean := s.level + r*s.drift
		total := s.varLevel + walk*c.own + 2*r*s.cov + c.vd + r*r*(s.varDrift-c.vd) + c.ve*noise + v
		if l.rhythm != nil {
			t := l.harmonics[j]
			t.wander(r)
			m, add := t.at(cos, sin)
			mean, total = mean+m, total+add
		}
		if l.Setting.Ways > 0 {
			o := l.offsets[j]
			o.wander(r)
			m, add := o.at(cos, sin, of.ways)
			mean, total = mean+m, total+add
		}
		parts[k] = normal.NewComponent(w, mean, total)
		k++
	}
	p.Set(parts[:k], k-l.substantial)
}

// PredictMeanOf says what the mean of the readings would be if they were usual.
func (l *Model) PredictMeanOf(out *normal.Mixture, run []Reading) {
	n := float64(len(run))
	mean := meanReading{n: n, days: days(run)}
	for _, p := range run {
		cos, sin := Angle(p.Hour)
		mean.day += p.Day / n
		mean.cos += cos / n
		mean.sin += sin / n
		mean.variance += p.SD * p.SD / n
		l.addWay(&mean, p.Way)
	}
	l.predictMean(out, mean)
}

// days is how many days the mean of readings is worth: those of one visit as much as one of them.
func days(run []Reading) float64 {
	n := float64(len(run))
	if Visits(run) == len(run) {
		return n
	}
	share := 0.0
	for from := 0; from < len(run); {
		to := from + 1
		for to < len(run) && !run[to].NewLevel && within(run[from].Day, run[to].Day) {
			to++
		}
		k := float64(to-from) / n
		share, from = share+k*k, to
	}
	return 1 / share
}

// VarianceParts takes the variance of a prediction apart: the SD of where the level, the drift, the
// rhythm and the way's offset are, and the SD from day to day.
func (l *Model) VarianceParts(of Reading) (doubt, spread float64) {
	of.SD = 0
	p := new(normal.Mixture)
	l.PredictBy(p, of)
	for i, j := range l.chosen {
		spread += l.weight[i] * l.cells[j].ve
	}
	return math.Sqrt(max(0, p.SD*p.SD-spread)), math.Sqrt(spread)
}

// WeightedSD is one SD of a distribution of SDs.
type WeightedSD struct{ SD, Weight float64 }

// SpreadPosterior is the posterior of the SD with which readings of the horse scatter over the span of the
// prior, drift and all.
func (l *Model) SpreadPosterior() []WeightedSD {
	l.Weigh()
	sds := make([]WeightedSD, l.grid.size)
	for i, j := range l.chosen {
		// Every block of the grid has the same SDs.
		k := l.cells[j].value
		sds[k].SD = l.cells[j].sigma
		sds[k].Weight += l.weight[i]
	}
	kept, sum := sds[:0], 0.0
	for _, c := range sds {
		if c.Weight > 1e-7 {
			kept = append(kept, c)
			sum += c.Weight
		}
	}
	for i := range kept {
		kept[i].Weight /= sum
	}
	return kept
}
