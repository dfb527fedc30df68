package level

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/maxatome/go-testdeep/td"
)

// The weights at the ends make the sum over every second or fourth usual step the one over all.
func TestEndsOfACoarseGrid(t *testing.T) {
	t.Parallel()
	for _, usual := range []int{2, 8} {
		g := newGrid(gridKey{Omega, defaultSpan, GridStep, GridReach, usual, true, false})
		sum := func(stride int) (total float64) {
			for j := 0; j < g.size; j += stride {
				w := math.Exp(g.prior[j]) * float64(stride) / float64(g.perStep)
				if j == 0 || j == g.size-1 {
					w *= g.end(stride)
				}
				total += w
			}
			return total
		}
		near(t, "usual", sum(usual), 1, 1e-12)
		for _, m := range []int{2, 4} {
			td.Require(t).Cmp((g.size-1)%(m*usual), 0)
			near(t, fmt.Sprint(m), sum(m*usual), 1, 5e-9)
		}
	}
}

// The values of sigma: evenly in the logarithm from one end to the other, the middle at one, normal weights.
func TestGridByHand(t *testing.T) {
	t.Parallel()
	g := newGrid(gridKey{.5, 30, .25, 2, 1, false, false})
	// 2·2·.5 in steps of .25 are 8 steps.
	td.Require(t).Cmp(g.size, 9)
	near(t, "step", g.step, .25, 1e-12)
	total := 0.0
	for j := range 9 {
		u := .5 * float64(j-4)
		near(t, "sigma", g.sigma[j], math.Exp(.5*u), 1e-12)
		near(t, "prior", g.prior[j]-g.prior[4], -u*u/2, 1e-12)
		total += math.Exp(g.prior[j])
	}
	near(t, "weights", total, 1, 1e-12)
	// Half a step more of reach lays out two more on each side, and finer ones lie between.
	td.Cmp(t, newGrid(gridKey{.5, 30, .25, 2.25, 1, false, false}).size, 11)
	td.Cmp(t, newGrid(gridKey{.5, 30, .25, 2, 4, false, false}).size, 33)
	td.Cmp(t, newGrid(gridKey{0, 30, .25, 2, 2, false, false}).size, 1)
	// Each drift: what is seen of the horse within the span is sigma, in two parts by phi.
	g = newGrid(gridKey{Omega, defaultSpan, GridStep, GridReach, 2, true, false})
	for b, block := range g.blocks {
		for _, j := range []int{0, g.size / 2, g.size - 1} {
			c := g.cell(b*g.size+j, 3)
			td.Cmp(t, []int{c.block, c.value}, []int{b, j})
			near(t, "sigma", c.sigma, 3*g.sigma[j], 1e-12)
			near(t, "seen", c.ve+c.vd*(1-WithinSpan(defaultSpan, block.Days)), c.own, 1e-9*c.own)
			near(t, "share", c.vd/(c.vd+c.ve), block.Share, 1e-12)
			near(t, "prior", c.prior, math.Log(block.Weight)+g.prior[j], 1e-12)
		}
		if block.Share > 0 {
			td.Cmp(t, g.days[block.constant], block.Days)
		}
	}
}

// The rule of how near the values lie, as stated with [level.finest], in usual steps.
func TestFinestOfReadings(t *testing.T) {
	t.Parallel()
	for n, want := range map[int]float64{0: 4, 1: 2, 20: 2, 21: 1, 150: 1, 151: .5, 400: .5, 401: .25, 1600: .25, 1601: .125} {
		l := New(Setting{M0: 38, Tau: 5, Sigma0: 3, Omega: Omega, Drift: true})
		l.buildGrid(perStepFor(n))
		l.n = n
		td.Cmp(t, float64(l.finestStride())/float64(l.grid.perStep), want, fmt.Sprint(n))
	}
	for n, want := range map[int]float64{39: 2, 40: 2, 41: 1, 300: 1, 301: .5} {
		l := New(Setting{M0: 38, Tau: 5, Sigma0: 3, Omega: Omega, BadDays: true})
		l.n = n
		td.Cmp(t, float64(l.finestStride())/float64(l.grid.perStep), want, "%d with bad days", n)
	}
}

// Few readings need few points: of most short histories every second value of the rule is left out again, because the sum is
// smooth, and of long ones, which know sigma well, hardly any.
func TestSmoothSumsAreCoarse(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5, 77))
	coarse := map[int]int{}
	for _, n := range []int{3, 30, 150} {
		for range 40 {
			l := New(with(heartPrior(), Omega, true, false))
			ps := make([]Reading, n)
			for i := range ps {
				ps[i] = Reading{Day: float64(3 * i), Y: 40 + 3*rng.NormFloat64()}
			}
			l.Fit(ps)
			if l.stride > l.finestStride() {
				coarse[n]++
			}
		}
	}
	if coarse[3] < 8 || coarse[150] > 0 {
		t.Errorf("coarser than the rule: %v of 40 each", coarse)
	}
}
