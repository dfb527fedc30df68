package api_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"
	"time"

	"whorl.example/wasm/api"
)

// Each number and each time of each request, at both ends of what a document can carry and beyond: the core answers,
// with a value or with faults that have a place, and does no more work for a larger number.
func TestExtremeNumbersAreAnswered(t *testing.T) {
	t.Parallel()
	numbers := []string{"-9007199254740991", "-1", "0", "1", "1000000000", "9007199254740991", "1e400", "0.5"}
	times := []string{"1900-01-01T00:00:00Z", "2199-12-31T23:59:59-14:00", "10000-01-01T00:00:00Z", "0000-00-00T00:00:00Z"}
	calls := 0
	for _, r := range requests {
		if r.op == "plan" {
			continue // takes seconds; see below
		}
		var tree any
		d := json.NewDecoder(strings.NewReader(r.request))
		d.UseNumber()
		if err := d.Decode(&tree); err != nil {
			t.Fatal(err)
		}
		leaves(tree, func(leaf any, set func(any)) {
			values := numbers
			if s, ok := leaf.(string); ok {
				if _, err := time.Parse(time.RFC3339, s); err != nil {
					return
				}
				values = times
			} else if _, ok := leaf.(json.Number); !ok {
				return
			}
			for _, x := range values {
				if _, ok := leaf.(string); ok {
					set(x)
				} else {
					set(json.Number(x))
				}
				text, err := json.Marshal(tree)
				if err != nil {
					t.Fatal(err)
				}
				calls++
				answered(t, r.op, string(text))
			}
			set(leaf)
		})
	}
	for _, days := range []string{"-9007199254740991", "0", "9007199254740991"} {
		answered(t, "plan", `{"horse":`+horse+`,"exams":[],"at":"2199-12-31T23:59:59Z","withinDays":`+days+`}`)
	}
	t.Logf("%d calls", calls)
}

func answered(t *testing.T, op, request string) {
	t.Helper()
	done := make(chan []byte)
	go func() { done <- api.Call(op, []byte(request)) }()
	select {
	case text := <-done:
		var a answer
		if err := json.Unmarshal(text, &a); err != nil {
			t.Fatalf("%s of %s: %v", op, request, err)
		}
		if a.OK == (len(a.Faults) > 0) {
			t.Errorf("%s of %s: ok is %v with %d faults", op, request, a.OK, len(a.Faults))
		}
		for _, f := range a.Faults {
			if f.Code == string(api.Internal) || f.Sentence == "" {
				t.Errorf("%s of %s: %s at %s", op, request, f.Code, f.Path)
			}
		}
	case <-time.After(5 * time.Minute):
		t.Fatalf("%s of %s: no end", op, request)
	}
}

// leaves visits what is no list and no object; of a list the first two.
func leaves(v any, visit func(leaf any, set func(any))) {
	below := func(x any, set func(any)) {
		switch x.(type) {
		case map[string]any, []any:
			leaves(x, visit)
		default:
			visit(x, set)
		}
	}
	switch v := v.(type) {
	case map[string]any:
		var names []string
		for name := range v {
			names = append(names, name)
		}
		slices.Sort(names)
		for _, name := range names {
			below(v[name], func(to any) { v[name] = to })
		}
	case []any:
		for i := range v[:min(2, len(v))] {
			below(v[i], func(to any) { v[i] = to })
		}
	}
}
