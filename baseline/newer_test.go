package baseline_test

import (
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
	"whorl.example/baseline/report"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Beside the verdict stands how many entries of a newer version were not understood; the headline and what is said of the signs are
// the same without them, in both languages, and none of the sender's text is in any sentence.
func TestWhatIsNotUnderstoodIsCounted(t *testing.T) {
	t.Parallel()
	night := exam("tonight", morning.AddDate(0, 2, 0), 60)
	plain, err := quiet().Compare(night)
	td.Require(t).CmpNoError(err)
	newer := night
	newer.Unknown = []vitals.Unknown{{At: "/findings/-", JSON: `{"sign":"dreadful"}`, Minor: 9}}
	newer.Findings = []vitals.Finding{night.Findings[0]}
	newer.Findings[0].Unknown = []vitals.Unknown{{At: "/steady", JSON: `"dreadful"`, Minor: 9}}
	c, err := quiet().Compare(newer)
	td.Require(t).CmpNoError(err)
	td.Cmp(t, c.Warnings[0], baseline.Warning{Key: baseline.WarnNewer, Args: []string{"n", "2"}})
	for lang, want := range map[words.Lang]string{
		words.English: "2 entries of this exam from a newer version were not understood.",
		words.Spanish: "2 datos de esta revisión, de una versión más nueva, no se entendieron.",
	} {
		td.Cmp(t, report.Remarks(c, juniper, lang), td.Contains(want))
		in := report.Input{Horse: juniper, Exam: newer, Comparison: c}
		td.Cmp(t, report.Heading(in, lang), report.Heading(report.Input{Horse: juniper, Exam: night, Comparison: plain}, lang))
		text := report.Call(in, lang).Text()
		td.Cmp(t, text, td.Contains(strings.TrimSuffix(want, ".")), "the call says so too")
		td.Cmp(t, text, td.Not(td.Contains("dreadful")))
	}
	c.Warnings = c.Warnings[1:]
	td.Cmp(t, c, plain)
}
