// Package slices has, in the core for the browser, the sorting of the standard library's package of that name, as
// [whorl.example/wasm/said] does for fmt. The library's is written out anew for each type that is sorted, some 20 kB of WebAssembly each; this is short and
// stable.
package slices

//lint:file-ignore U1000 the library's other files call these.

import "cmp"

// few is up to how many elements are sorted by insertion, as in the library.
const few = 12

func pdqsortOrdered[E cmp.Ordered](data []E, a, b, limit int) { sort(data[a:b], nil, cmp.Compare[E]) }

func pdqsortCmpFunc[E any](data []E, a, b, limit int, cmp func(a, b E) int) {
	sort(data[a:b], nil, cmp)
}

func stableCmpFunc[E any](data []E, n int, cmp func(a, b E) int) { sort(data[:n], nil, cmp) }

// sort sorts by merging; spare has room for half of x, or is nil.
func sort[E any](x, spare []E, cmp func(a, b E) int) {
	if len(x) <= few {
		for i := 1; i < len(x); i++ {
			for j := i; j > 0 && cmp(x[j], x[j-1]) < 0; j-- {
				x[j], x[j-1] = x[j-1], x[j]
			}
		}
		return
	}
	m := len(x) / 2
	if spare == nil {
		spare = make([]E, m)
	}
	sort(x[:m], spare, cmp)
	sort(x[m:], spare, cmp) // half of it has room there too
	if cmp(x[m], x[m-1]) >= 0 {
		return // in order already, as most lists are
	}
	left := spare[:copy(spare, x[:m])]
	for i, j, to := 0, m, 0; i < len(left); to++ {
		if j < len(x) && cmp(x[j], left[i]) < 0 {
			x[to] = x[j]
			j++
		} else {
			x[to] = left[i]
			i++
		}
	}
}
