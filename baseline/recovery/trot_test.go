package recovery

import (
	"math"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// Each definition is read only by a trot-out that followed it.
func TestTrotOutDefinitionsKeptApart(t *testing.T) {
	t.Parallel()
	m := func(v float64) vitals.Measure { return vitals.Measure{Value: v, SD: .8, Unit: vitals.PerMinute} }
	fits := func(o TrotOut) map[string]*bool {
		a, ok := o.Answer()
		td.CmpTrue(t, ok)
		out := map[string]*bool{}
		for _, f := range a.Fits {
			out[f.Definition.ID] = f.Notice
		}
		return out
	}
	yes, no := true, false
	// 125 ft out and back, one minute from the start of the trot: AERC alone.
	aerc := TrotOut{HR0: m(60), HR1: m(64), OutMetres: 38.1, Clock: FromTrotStart, Seconds: 60}
	td.Cmp(t, fits(aerc), map[string]*bool{"aerc": &yes})
	aerc.HR1 = m(60) // the same is good
	td.Cmp(t, fits(aerc), map[string]*bool{"aerc": &no})
	// 40 m timed from the first count: FEI alone, which gives no figure here.
	td.Cmp(t, fits(TrotOut{HR0: m(60), HR1: m(66), OutMetres: 40, Clock: FromFirstCount, Seconds: 60}), map[string]*bool{"fei": nil})
	// 30 m: the French study; more than 4 higher mattered only above 60.
	td.Cmp(t, fits(TrotOut{HR0: m(64), HR1: m(69), OutMetres: 30, Clock: FromTrotEnd}), map[string]*bool{"france": &yes})
	td.Cmp(t, fits(TrotOut{HR0: m(56), HR1: m(69), OutMetres: 30, Clock: FromTrotEnd}), map[string]*bool{"france": &no})
	td.Cmp(t, fits(TrotOut{HR0: m(64), HR1: m(68), OutMetres: 30, Clock: FromTrotEnd}), map[string]*bool{"france": &no})
	// The same 38 m, timed from its end, fits none.
	td.Cmp(t, fits(TrotOut{HR0: m(60), HR1: m(64), OutMetres: 38.1, Clock: FromTrotEnd, Seconds: 60}), map[string]*bool{})

	a, _ := TrotOut{HR0: m(60), HR1: m(64)}.Answer()
	td.Cmp(t, a.Difference, 4.0)
	td.Cmp(t, a.SD, td.Between(.8*math.Sqrt2-1e-12, .8*math.Sqrt2+1e-12))
	for _, bad := range []TrotOut{{}, {HR0: m(math.NaN()), HR1: m(60)}, {HR0: m(60), HR1: m(-1)}, {HR0: m(60), HR1: m(60), OutMetres: math.Inf(1)}} {
		_, ok := bad.Answer()
		td.CmpFalse(t, ok)
	}
}
