package grade

import "whorl.example/vitals"

// Counts is what a horse's own exams showed of a graded sign, as far as the rank goes.
type Counts struct {
	N    int                 // exams, a visit as one
	Seen [len(PriorTail)]int // that showed the rank or more
}

// Count counts answers.
func Count(own []Answer) (c Counts) {
	c.N = len(own)
	c.Seen[0] = c.N
	for i := range own {
		for k := 1; k <= min(own[i].Rank, len(c.Seen)-1); k++ {
			c.Seen[k]++
		}
	}
	return c
}

// tail is P(rank or more).
func (c *Counts) tail(rank int) float64 {
	return (Weight*PriorTail[rank] + float64(c.Seen[rank])) / (Weight + float64(c.N))
}

// Attainable are the probabilities that the answers of a sign can have, beside these exams, from the likeliest to the rarest;
// the answer of a healthy animal has none.
func (c *Counts) Attainable(sign *vitals.Sign) (tails [len(PriorTail) - 1]float64, n int) {
	shown := [len(PriorTail)]bool{}
	for i := range sign.Grades {
		shown[min(sign.Grades[i].Rank, len(shown)-1)] = true
	}
	for rank := 1; rank < len(shown); rank++ {
		if shown[rank] {
			tails[n] = c.tail(rank)
			n++
		}
	}
	return tails, n
}
