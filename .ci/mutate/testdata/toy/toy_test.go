package toy

import "testing"

func TestToy(t *testing.T) {
	for name, ok := range map[string]bool{
		"older": older(2, 1) && !older(1, 2), // not at the boundary
		"both":  both(true, true) && !both(true, false) && !both(false, false),
		"same":  same(nil),
		"mean":  mean(1, 2) == 1.5,
		"count": count(0) == 0 && count(3) == 3,
		"start": start < 0,
	} {
		if !ok {
			t.Error(name)
		}
	}
}
