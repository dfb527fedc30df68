package api_test

import (
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/wasm/api"
)

// FEI Endurance Rules 2019, article 821.2.3: fifteen seconds stand if they hold 16 beats or fewer, thirty if 32 or fewer.
func TestMeasureAdvisesALongerCount(t *testing.T) {
	t.Parallel()
	for count, want := range map[string]string{
		`{"events":9,"seconds":15,"start":"on-beat"}`:  "",
		`{"events":16,"seconds":15,"start":"on-beat"}`: "",
		`{"events":17,"seconds":15,"start":"on-beat"}`: "Count on to 30 seconds.",
		`{"events":33,"seconds":30,"start":"on-beat"}`: "Count a full minute.",
		`{"events":70,"seconds":60,"start":"on-beat"}`: "",
	} {
		got := string(api.Call("measure", []byte(`{"sign":"heart-rate","finding":{"sign":"heart-rate","site":"jaw","count":`+count+`}}`)))
		td.Cmp(t, strings.Contains(got, `"advice"`), want != "", got)
		td.Cmp(t, strings.Contains(got, want), true, got)
	}
}
