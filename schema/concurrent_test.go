package schema_test

import (
	"sync"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/schema"
)

// A server reads many documents at once: each reads as it does alone. The race detector, where it is switched on, watches.
func TestDecodedAtOnce(t *testing.T) {
	var docs [][]byte
	for _, kind := range []string{"pass", "fail"} {
		for _, data := range files(t, kind) {
			if len(data) < 20_000 {
				docs = append(docs, data)
			}
		}
	}
	want := make([]string, len(docs))
	said := func(data []byte) string {
		f, err := schema.Decode(data)
		if err != nil {
			return err.Error()
		}
		out, err := schema.Encode(f)
		if err != nil {
			return err.Error()
		}
		return string(out)
	}
	for i, data := range docs {
		want[i] = said(data)
	}
	var at sync.WaitGroup
	for w := range 8 {
		at.Go(func() {
			for k := range docs {
				i := (k + w*len(docs)/8) % len(docs)
				if got := said(docs[i]); got != want[i] {
					t.Errorf("document %d: %.200s, alone %.200s", i, got, want[i])
				}
			}
		})
	}
	at.Wait()
	td.CmpGt(t, len(docs), 20)
}
