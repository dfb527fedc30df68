package vitals_test

import (
	"encoding/json"
	"errors"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

func TestDateAsJSON(t *testing.T) {
	t.Parallel()
	type born struct {
		Born vitals.Date `json:"born,omitzero"`
	}
	for _, text := range []string{`{}`, `{"born":"2014-04-21"}`, `{"born":"2024-02-29"}`} {
		var b born
		td.CmpNoError(t, json.Unmarshal([]byte(text), &b))
		back, err := json.Marshal(b)
		td.CmpNoError(t, err)
		td.Cmp(t, string(back), text)
	}
	b := born{vitals.Date{Year: 2014, Month: time.April, Day: 21}}
	for _, text := range []string{`{"born":"2023-02-29"}`, `{"born":"21.04.2014"}`, `{"born":"1899-12-31"}`} {
		td.Cmp(t, errors.Is(json.Unmarshal([]byte(text), &b), vitals.Fault{Code: vitals.FaultBadDay}), true, text)
		td.Cmp(t, b.Born, vitals.Date{Year: 2014, Month: time.April, Day: 21}, "left as it was")
	}
}
