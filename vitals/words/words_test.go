package words

import (
	"testing"

	"github.com/maxatome/go-testdeep/td"
)

// What the library says and what the page says share no key, in any language.
func TestEachKeyIsSaidOnce(t *testing.T) {
	for _, lang := range Langs {
		page := Page(lang)
		td.CmpTrue(t, len(page) > 200 && len(Keys(lang)) > 500, string(lang))
		for key := range page {
			td.CmpFalse(t, Has(lang, key), "%s %s", lang, key)
		}
	}
}
