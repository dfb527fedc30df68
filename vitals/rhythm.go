package vitals

import (
	"math"
	"slices"
	"strconv"
)

// Rhythm is how regular tapped heart beats were. The first three are also the answers of
// the sign [HeartRhythm].
type Rhythm string

const (
	RhythmRegular   Rhythm = "regular"
	RhythmPauses    Rhythm = "pauses"      // regular, with beats left out
	RhythmIrregular Rhythm = "irregular"   // no order in the intervals
	RhythmUnknown   Rhythm = "cannot-tell" // too few beats, or gaps that may be missed taps as well as pauses
)

// Rhythms lists every rhythm.
func Rhythms() []Rhythm { return slices.Clone(allRhythms) }

var allRhythms = []Rhythm{RhythmRegular, RhythmPauses, RhythmIrregular, RhythmUnknown}

const (
	// rhythmFrom is how many pairs of neighbouring intervals it takes to speak of rhythm
	// (assumed: with fewer, a third of them is two or three).
	rhythmFrom = 9

	// irregularFrom is the beat's deviation from one beat to the next, as a share of the
	// period, from which a rhythm is called irregular: half-way, by ratio, between the
	// largest that is called sinus rhythm at rest and the least that is called fibrillation.
	// A neighbour 20 % off is the limit below 60 a minute (Flethoj 2016); taken as 2.4
	// standard deviations of a difference, one in sixty, it is a deviation of 6 %. In
	// fibrillation it is about 24 % and hardly changes (Tateno and Glass 2001, that it is
	// constant; the figure is from memory, not checked against the source). √(6·24) = 12.
	irregularFrom = 0.12

	// twoThirds is the deviation within which two thirds of a normal distribution lie.
	twoThirds = 0.967422

	// pausesFrom is how many gaps make pauses of what may be a missed tap (assumed).
	pausesFrom = 2
	// pausesLikelier is from where on gaps are said to be pauses: five times likelier, as a logarithm (simulated).
	pausesLikelier = 1.6094379
)

// compare counts the pair of an interval and the one before it. Slow swings of the rate,
// with the breath and over minutes, hardly show between neighbours; and since a third of
// the pairs may be anything, a few early beats or missed taps do not make a rhythm
// irregular. The difference of two neighbours, each taken per event, has the variance of
// their beats at the limit of regular and of three taps, the middle one shared.
func (s *tapSums) compare(d, k float64) {
	each, share := d/k, 1/k
	if s.priorK > 0 {
		before := 1 / s.priorK
		variance := float64(s.limit2*(before+share)) +
			float64(s.jitter2*(float64(before*before)+float64(share*share)+square(before+share)))
		s.pairs++
		if math.Abs(each-s.prior) > twoThirds*math.Sqrt(variance) {
			s.apart++
		}
	}
	s.prior, s.priorK = each, k
}

func (s *tapSums) rhythm() Rhythm {
	switch {
	case s.pairs < rhythmFrom:
		return RhythmUnknown
	case 3*s.apart > s.pairs:
		return RhythmIrregular
	case s.gaps >= pausesFrom && s.likelierPauses() > pausesLikelier:
		return RhythmPauses
	case s.gaps >= pausesFrom:
		return RhythmUnknown
	}
	return RhythmRegular
}

// pausing reports whether the gaps are the heart's own beyond doubt, so that the rate is
// that of the beats felt: ten thousand times likelier if each beat is left out with
// probability ¼ (every third to fifth, the usual pattern of a second-degree block) than if
// each tap is missed with probability 1/20 (assumed).
func (s *tapSums) pausing() bool {
	return s.rhythm() == RhythmPauses && s.likelierPauses() > 9.2103404
}

// likelierPauses is how much likelier the gaps are the heart's own than missed taps, as a logarithm: a missed tap and a dropped beat look
// alike, and only how many there are tells. From five times likelier on, pauses are said; else the gaps are told, and asked about.
func (s *tapSums) likelierPauses() float64 {
	const gap, beat = 1.6094379, 0.2363888 // ln(0.25/0.05), ln(0.95/0.75)
	return gap*float64(s.missing) - beat*float64(s.n-s.gaps)
}

// Unclear reports whether there are gaps that may be missed taps or pauses of the heart: it is to be counted again, listening for them.
func (t Tapped) Unclear() bool {
	return t.Rhythm == RhythmUnknown && t.Gaps >= pausesFrom && t.Taps-t.Doubled > rhythmFrom+1
}

// Say says the rhythm of a series in a clause: its key in whorl.example/vitals/words and
// the arguments. The key is empty for breaths.
func (t Tapped) Say() (key string, args []string) {
	if t.Rhythm == "" {
		return "", nil
	}
	args = []string{"n", strconv.Itoa(t.Gaps), "beats", strconv.Itoa(t.Taps - t.Doubled)}
	if t.Rhythm == RhythmUnknown && t.Unclear() {
		return "how.rhythm.gaps", args
	}
	if t.Rhythm == RhythmRegular && t.Gaps > 0 {
		return "how.rhythm.one-gap", args
	}
	return "how.rhythm." + string(t.Rhythm), args
}

// spread says how far the rate of a series of taps may be from the animal's, when neither
// how much its beats vary nor how well this finger follows them is known: both are read
// from the taps themselves. What the intervals scatter is the sum of the two; how
// neighbours go against each other (a late tap makes one interval long and the next short)
// tells them apart, and it tells little before some thirty beats. So the answer is an
// average over proportions of beat to tap, each weighted by how well it explains the taps
// (Bayes' rule), with the scale of both integrated out: at one proportion the scale's
// variance has an inverse gamma prior, which leaves a Student distribution.
//
// The prior was chosen by simulation over taps of 20 to 60 ms and beats of 1.5 to 6 %, so
// that value ± 1.96 standard deviations holds the animal's rate about 95 times of 100 in
// each (TestTapAccuracy prints the table). At fifteen seconds it cannot be so everywhere: a
// finger of 40 ms on beats of 1.5 % and one of 20 ms on beats of 3 % tap series that look
// alike, and rates 1.6 times as uncertain.
type spread struct {
	at    [proportions]gls
	pivot [proportions]float64 // product of the pivots since logs
	logs  [proportions]float64 // sum of the logarithms of those before
	n     int                  // intervals so far
}

const (
	// proportions of beat to tap, each twice the one before, the cadence's own in the middle.
	proportions = 7
	middle      = proportions / 2

	// The prior, in its three figures: each proportion is four fifths as likely as the half of
	// it; at each the finger's variance is as of 6.5 intervals at half the cadence's jitter. The
	// third, caution, is for tails longer than a normal's: a share, over the number of intervals.
	lnLikelier   = -0.223143551 // ln 0.8
	scaleDegrees = 6.5
	scaleShare   = 0.5
	caution      = 0.4

	z95 = 1.959964
)

// newSpread begins for beats and taps of these deviations, in seconds, at a period.
func newSpread(beat, jitter, period float64) (s spread) {
	for i := range s.at {
		s.at[i] = newGLS(math.Ldexp(beat, i-middle), jitter)
		s.at[i].centre = period
		s.pivot[i] = 1
	}
	return s
}

func (s *spread) add(d, k float64) {
	s.n++
	for i := range s.at {
		s.at[i].add(d, k)
		s.pivot[i] *= s.at[i].pivot
	}
	if s.n%32 == 0 { // long before a product leaves what a float64 holds
		for i := range s.pivot {
			s.logs[i] += math.Log(s.pivot[i])
			s.pivot[i] = 1
		}
	}
}

// own is the estimate at the cadence's own proportion of beat to tap.
func (s *spread) own() *gls { return &s.at[middle] }

// deviation is the standard deviation of the period of [spread.own].
func (s *spread) deviation() float64 {
	const prior = scaleDegrees * scaleShare * scaleShare
	degrees := float64(s.n-1) + scaleDegrees
	period := s.own().period()
	var weights, variances [proportions]float64
	best := math.Inf(-1)
	for i := range s.at {
		g := &s.at[i]
		scale := prior + g.misfit()
		weights[i] = float64(lnLikelier*float64(i)) - (float64(degrees*math.Log(scale))+math.Log(g.kk*s.pivot[i])+s.logs[i])/2
		best = max(best, weights[i])
		variances[i] = scale/((degrees-2)*g.kk) + float64(square(g.period()-period))
	}
	var sum, variance float64
	for i, w := range weights {
		w = math.Exp(w - best)
		sum += w
		variance += float64(w * variances[i])
	}
	return (1 + caution/float64(s.n)) * math.Sqrt(variance/sum)
}

// gls is generalised least squares for the period P of events from the intervals of taps.
//
// Events follow each other at P plus independent normal deviations of standard deviation
// beat; each tap misses its event by an independent deviation of standard deviation
// jitter. An interval that spans k events has mean kP, variance k·beat² + 2·jitter²; two
// neighbours share a tap and have covariance -jitter² (the model of Wing and Kristofferson
// 1973). The covariance is tridiagonal, so that its factors, and with them the sums that
// the estimate needs, grow by one term an interval.
type gls struct {
	beat2, jitter2 float64
	centre         float64 // taken off every period, to keep the sums small
	n              int
	pivot, d, k    float64 // of the last interval, after elimination
	kk, kd, dd     float64 // k'V⁻¹k, k'V⁻¹r, r'V⁻¹r with r = d - k·centre
}

func newGLS(beat, jitter float64) gls {
	return gls{beat2: beat * beat, jitter2: jitter * jitter}
}

func (g *gls) add(d, k float64) {
	// Products are rounded before they are added: processors that fuse the two would answer
	// differently in the last bit.
	r := d - float64(k*g.centre)
	pivot := float64(k*g.beat2) + 2*g.jitter2
	if g.n > 0 {
		l := -g.jitter2 / g.pivot
		pivot -= float64(float64(l*l) * g.pivot)
		r -= float64(l * g.d)
		k -= float64(l * g.k)
	}
	g.n++
	g.pivot, g.d, g.k = pivot, r, k
	g.kk += k * k / pivot
	g.kd += k * r / pivot
	g.dd += r * r / pivot
}

// period is the estimate, in the unit of the intervals.
func (g *gls) period() float64 { return g.centre + g.kd/g.kk }

// misfit is the weighted sum of squares about the estimate; with the right variances it
// has mean n-1.
func (g *gls) misfit() float64 { return max(0, g.dd-g.kd*g.kd/g.kk) }
