package slices

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/maxatome/go-testdeep/td"
)

// It sorts as the standard library does, and keeps equal elements in their order, whatever the length.
func TestSortsAsTheLibrary(t *testing.T) {
	t.Parallel()
	chance := rand.New(rand.NewPCG(1, 2))
	type pair struct{ key, at int }
	byKey := func(a, b pair) int { return cmp.Compare(a.key, b.key) }
	for n := range 200 {
		for range 5 {
			pairs := make([]pair, n)
			numbers := make([]float64, n)
			for i := range pairs {
				pairs[i] = pair{chance.IntN(1 + n/3), i}
				numbers[i] = float64(chance.IntN(1+n)) - float64(n)/2
			}
			if n > 20 {
				numbers[n/2], numbers[n/3] = math.NaN(), math.Inf(1)
			}
			want, ordered := slices.Clone(pairs), slices.Clone(numbers)
			slices.SortStableFunc(want, byKey)
			slices.Sort(ordered)
			other := slices.Clone(pairs)
			stableCmpFunc(pairs, n, byKey)
			td.Cmp(t, pairs, want)
			pdqsortCmpFunc(other, 0, n, 0, byKey)
			td.Cmp(t, other, want)
			pdqsortOrdered(numbers, 0, n, 0)
			td.Cmp(t, slices.EqualFunc(numbers, ordered, func(a, b float64) bool { return a == b || a != a && b != b }), true)
		}
	}
}
