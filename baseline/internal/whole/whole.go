// Package whole puts the findings of an exam together into one statement. It knows probabilities only.
package whole

import "math"

// Finding is one finding: how rare it is on a well day, and how rare it could have been.
type Finding struct {
	// P is the probability of as much or more; 1 for the answer of a healthy animal.
	P float64
	// Tails are the probabilities that the answers of a graded sign can have, Graded how many; of a measured
	// sign, which can have any, there are none.
	Tails  [4]float64
	Graded int
}

// largest is the largest probability up to x that the finding could have had, 0 for none.
func (f *Finding) largest(x float64) float64 {
	if f.Graded == 0 {
		return x
	}
	most := 0.0
	if f.P <= x && f.P < 1 {
		most = f.P // rarer than its rank, where the others of its rank were another answer
	}
	for _, t := range f.Tails[:f.Graded] {
		if t <= x {
			most = max(most, t)
		}
	}
	return most
}

// Rarest is the probability that the rarest of such findings is as rare as the rarest of these: Tippett's minimum, exact about graded answers in the manner of
// Tarone (Biometrics 46 (1990) 515-522, from memory): a sign of which no answer could be as rare does not count among the many. It is 1 where
// nothing is rare at all.
func Rarest(findings []Finding) float64 {
	least := 1.0
	for i := range findings {
		least = min(least, findings[i].P)
	}
	if least == 1 {
		return 1
	}
	none := 0.0 // log of the probability that no other is as rare
	for i := range findings {
		none += math.Log1p(-findings[i].largest(least))
	}
	return -math.Expm1(none)
}

// Worth is how many well exams Rarest is worth beside the horse's own that are counted.
const Worth = 20

// Counted sets what Rarest said of an exam beside what it said of other well exams, n in number, of which as many as rarer said as little or less:
// signs that move together, heavy tails and coarse answers are in these. The exam itself is one of them, which fades in with their number.
func Counted(p float64, n, rarer int) float64 {
	others := float64(n)
	return min(1, (Worth*p+float64(rarer)+others/(Worth+others))/(Worth+others))
}

// Band is which of the exams are alike in how much was known before them, by the number of visits: more is known of later ones.
func Band(visits int) (band int) {
	for _, from := range [...]int{3, 6, 12, 24} {
		if visits >= from {
			band++
		}
	}
	return band
}
