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
