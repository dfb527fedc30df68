package main

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// A mare that stood at 40 for ten weeks and stands at 32 since: the third quiet exam there asks, the answer is
// kept with the horse and changes what is usual, it is taken back, and "Why?" says what it rests on.
func TestChromiumNewUsual(t *testing.T) {
	t.Parallel()
	url, b := serve(t), browser(t)
	p := newPhone(t, b, url)
	p.until("document.querySelector('.horse')")
	horse := vitals.Horse{ID: "fitter", Name: "Fitter", Type: vitals.TypeHorse, Sex: vitals.Mare}
	var exams []map[string]any
	for i, n := range []int{40, 41, 39, 40, 42, 40, 39, 41, 40, 40, 32, 31, 32} {
		exams = append(exams, map[string]any{
			"id": "f" + string(rune('a'+i)), "horse": "fitter", "at": time.Date(2026, 3, 2+7*i, 7, 30, 0, 0, time.UTC).Format(time.RFC3339),
			"depth": "full", "purpose": "learning", "state": map[string]string{"condition": "rest"}, "wellness": "well", "status": "finished",
			"findings": []any{map[string]any{"sign": "heart-rate", "site": "chest-left", "count": map[string]any{"events": n, "seconds": 60, "start": "anywhere"}}},
		})
	}
	record, err := json.Marshal(map[string]any{"horse": map[string]string{"id": "fitter", "name": "Fitter", "type": "horse", "sex": "mare"}, "exams": exams})
	p.must(err)
	eval[bool](p, `new Promise((resolve, reject) => {
		const open = indexedDB.open('whorl-barn-book'), record = `+string(record)+`;
		open.onerror = () => reject(open.error);
		open.onsuccess = () => {
			const t = open.result.transaction(['horses', 'exams'], 'readwrite');
			t.objectStore('horses').put(record.horse);
			for (const e of record.exams) t.objectStore('exams').put(e);
			t.oncomplete = () => { open.result.close(); resolve(true); };
		};
	})`)
	kept := func() []vitals.NewUsual {
		for _, h := range stored[vitals.Horse](p, "horses") {
			if h.ID == horse.ID {
				return h.NewUsual
			}
		}
		return nil
	}
	p.navigate(url + "#/exam/fm/result")
	p.until("document.querySelector('.asked button')")
	p.look("asked")
	td.Cmp(t, p.text(), td.Contains("Is this her new usual?"))

	p.touch(english("page.usual.no"))
	p.until("!document.querySelector('.asked button:not(.link)') && document.querySelector('.asked')")
	p.look("not")
	td.Cmp(t, kept(), td.Len(1))
	td.CmpTrue(t, kept()[0].Not)
	p.touch(english("page.usual.back"))
	p.until("document.querySelector('.asked button:not(.link)')")

	p.touch(english("page.usual.yes"))
	p.until("document.body.innerText.includes('New usual from')")
	p.look("marked")
	td.Cmp(t, kept(), td.Len(2))
	td.Cmp(t, kept()[1].From.UTC(), time.Date(2026, 5, 11, 7, 30, 0, 0, time.UTC))
	td.CmpFalse(t, kept()[1].Not || kept()[1].Back)

	// Why: asked of the core when it is opened.
	p.touch(".found .why summary")
	p.until("document.querySelector('.found .why p')")
	p.look("why")
	td.Cmp(t, p.text(), td.Contains("because someone set a new usual"))

	p.touch(english("page.usual.back"))
	p.until("document.querySelector('.asked button:not(.link)')")
	td.CmpTrue(t, kept()[1].Back)
}
