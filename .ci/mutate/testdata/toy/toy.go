// Package toy has mutants of every outcome.
package toy

const limit = 3 * 2 // no mutant: it is not run

var start = -1.0

func older(a, b int) bool { return a > b }

func both(a, b bool) bool { return a && b }

func same(a any) bool { return a == nil }

func mean(a, b float64) float64 { return (a + b) / 2 }

func count(n int) (k int) {
	for n > 0 {
		n--
		k++
	}
	return k
}

func never(x int) int { return -x % limit }
