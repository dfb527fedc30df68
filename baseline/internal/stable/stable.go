// Package stable sorts lists, equal ones as they stood.
package stable

import "slices"

// Sort sorts a list in place, equal ones as they stood. It sorts places, so that the
// browser carries one sort and not one for each type, some 10 kB each.
func Sort[T any](list []T, compare func(a, b T) int) {
	places := make([]int, len(list))
	for i := range places {
		places[i] = i
	}
	slices.SortStableFunc(places, func(i, j int) int { return compare(list[i], list[j]) })
	was := slices.Clone(list)
	for i, p := range places {
		list[i] = was[p]
	}
}
