package level

import (
	"testing"

	"github.com/maxatome/go-testdeep/td"
)

// The lowest readings stand in their order, and of equal ones at the edge only as many as there is room for, the earlier ones.
func TestLowestReadings(t *testing.T) {
	t.Parallel()
	var r sortRoom
	for _, c := range []struct {
		ys   []float64
		n    int
		want []int // places
	}{
		{[]float64{5, 1, 4, 2, 3}, 3, []int{1, 3, 4}},
		{[]float64{2, 1, 2, 3, 2, 1}, 4, []int{0, 1, 2, 5}},
		{[]float64{2, 2, 2, 2}, 2, []int{0, 1}},
		{[]float64{7, 3}, 1, []int{1}},
		{[]float64{1, 2, 3}, 3, []int{0, 1, 2}},
	} {
		points := make([]Reading, len(c.ys))
		for i, y := range c.ys {
			points[i] = Reading{Day: float64(i), Y: y, NewLevel: true}
		}
		var got []int
		for _, p := range r.lowest(points, c.n) {
			td.CmpFalse(t, p.NewLevel)
			got = append(got, int(p.Day))
		}
		td.Cmp(t, got, c.want, "%v", c.ys)
	}
}
