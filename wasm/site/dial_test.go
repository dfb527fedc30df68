package main

import (
	"encoding/json"
	"testing"

	"github.com/maxatome/go-testdeep/td"
)

// What a person writes beside "telephone", and the only thing that may stand behind tel: (RFC 3966: digits, and + before a
// country's; ITU-T E.123 on brackets, and that (0) is not dialled behind a country, from memory). A code of * and # (3GPP TS 22.030)
// can divert every call of the telephone that dials it.
func TestOnlyANumberIsDialled(t *testing.T) {
	t.Parallel()
	asked := []struct {
		text string
		dial []string
	}{
		{"+44 (0)20 7946 0101 / 0999 123456 ext. 4", []string{"+442079460101", "0999123456"}},
		{"*21*07700900123#", nil},
		{"##002#", nil},
		{"0999 123456,*21*1#", nil},
		{"(020) 7946 0101", []string{"02079460101"}},
		{"+1 (555) 010-0123", []string{"+15550100123"}},
		{"555-0100", []string{"5550100"}},
		{"0999.12.34.56", []string{"0999123456"}},
		{"0999 123456 ext. 4", []string{"0999123456"}},
		{"0999 123456 x4711", []string{"0999123456"}},
		{"0999 123456 extensión 4", []string{"0999123456"}},
		{"mobile 07700 900123", []string{"07700900123"}},
		{"07700 900123 (8-18)", []string{"07700900123"}},
		{"8-18: 07700 900123", []string{"07700900123"}},
		{"07700900123 07700900456", []string{"07700900123", "07700900456"}},
		{"5550101 5550102", []string{"5550101", "5550102"}},
		{"+442079460101 +442079460102", []string{"+442079460101", "+442079460102"}},
		{"0999 123456 or 0999 654321", []string{"0999123456", "0999654321"}},
		{"112", []string{"112"}},
		{"4711", []string{"4711"}},
		{"box 17", nil},
		{"ask at the yard", nil},
		{"07700900123;phone-context=+44", []string{"07700900123"}},
		{"1234567890123456", nil},
		{"tel:07700900123", []string{"07700900123"}},
		{"٠٧٧٠٠", nil},
		{"", nil},
	}
	var texts []string
	for _, a := range asked {
		texts = append(texts, a.text)
	}
	var got []struct {
		All   []string
		First string
	}
	td.Require(t).CmpNoError(json.Unmarshal(pageSays(t, "import { dialable, telOf } from './text/numbers';",
		"x => ({ All: dialable(x).map(telOf), First: telOf(x) })", texts), &got))
	for i, a := range asked {
		var want []string
		for _, n := range a.dial {
			want = append(want, "tel:"+n)
		}
		td.Cmp(t, got[i].All, td.Bag(td.Flatten(want)), a.text)
		if len(want) > 0 {
			td.Cmp(t, got[i].First, want[0], a.text)
		} else {
			td.Cmp(t, got[i].First, "tel:", a.text)
		}
	}
}
