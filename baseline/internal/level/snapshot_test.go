package level

import (
	"slices"
	"testing"

	"github.com/maxatome/go-testdeep/td"
)

// What a model is restored from must be of its grid and of its readings; restored, it says the same.
func TestRestoreChecksTheSnapshot(t *testing.T) {
	t.Parallel()
	for _, set := range []Setting{with(heartPrior(), Omega, true, false), {M0: 38, Tau: 5, Sigma0: 3, Omega: Omega, Drift: true, Rhythm: &aDay}} {
		var points []Reading
		for i := range 26 {
			points = append(points, Reading{Day: 2 * float64(i), Hour: float64(i % 20), Y: 34 + float64(i%5), SD: .45})
		}
		whole := New(set)
		whole.Fit(points)
		snapshot := *whole.Snapshot()
		restore := func(spoil func(*Snapshot)) (*Model, bool) {
			s := snapshot
			s.Points = slices.Clone(s.Points)
			spoil(&s)
			l := New(set)
			for _, p := range points {
				l.Append(p)
			}
			ok := l.Restore(s)
			return l, ok
		}
		l, ok := restore(func(*Snapshot) {})
		td.CmpTrue(t, ok, "as it is")
		td.Cmp(t, l.Predict(60, 7, .45), whole.Predict(60, 7, .45))
		td.Cmp(t, l.Belief(), whole.Belief())
		size := whole.grid.size
		for name, c := range map[string]struct {
			spoil func(*Snapshot)
			want  bool
		}{
			"all at the level":      {func(s *Snapshot) { s.Since = 26 }, true},
			"the least stride":      {func(s *Snapshot) { s.Stride = 1 }, true},
			"the greatest":          {func(s *Snapshot) { s.Stride = size - 1 }, true},
			"each day a bad one":    {func(s *Snapshot) { s.BadDays = make([]float64, 26) }, true},
			"the same cell twice":   {func(s *Snapshot) { s.Points[1].Index = s.Points[0].Index }, false},
			"one beyond the grid":   {func(s *Snapshot) { s.Points[0].Index = len(whole.grid.blocks) * size }, false},
			"one before it":         {func(s *Snapshot) { s.Points[0].Index = -1 }, false},
			"a stride as the grid":  {func(s *Snapshot) { s.Stride = size }, false},
			"no stride":             {func(s *Snapshot) { s.Stride = 0 }, false},
			"bad days but for one":  {func(s *Snapshot) { s.BadDays = make([]float64, 25) }, false},
			"more than it has read": {func(s *Snapshot) { s.Since = 27 }, false},
			"weights beyond one":    {func(s *Snapshot) { s.Points[0].Weight += 1e-5 }, false},
			"a weight below nought": {func(s *Snapshot) {
				s.Points[0].Weight, s.Points[1].Weight = -s.Points[0].Weight, s.Points[1].Weight+2*s.Points[0].Weight
			}, false},
		} {
			_, ok := restore(c.spoil)
			td.Cmp(t, ok, c.want, name)
		}
	}
}
