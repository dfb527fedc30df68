// Package clinic holds an invented clinic's pack, and the test that it is in order.
package clinic

import (
	"os"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/schema/pack"
)

func TestThePackIsInOrder(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile("pack.json")
	td.Require(t).CmpNoError(err)
	p, err := pack.Decode(data)
	td.CmpNoError(t, err)
	td.Cmp(t, p.Thresholds, td.Len(1))
}
