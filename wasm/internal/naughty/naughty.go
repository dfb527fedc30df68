// Package naughty has texts that break programs, for the tests of every way in which a text
// travels: the Big List of Naughty Strings, as npm's blns 2.0.4 has it (MIT, see
// LICENSE.blns), and what is not in it.
package naughty

import (
	_ "embed"
	"encoding/json"
	"strings"
)

//go:embed blns.json
var blns []byte

// Strings gives the texts. Some are no UTF-8, some longer than any field.
func Strings() []string {
	var list []string
	if err := json.Unmarshal(blns, &list); err != nil {
		panic(err) // the file is in the repository
	}
	return append(list,
		"\u202eelbmarB", "a\u202e56\u202c b", "\u2066open", "\u200f\u200eBramble", "\u061cحصان", // directions
		"line\u2028next\u2029after\u0085end", "a\rb\nc\r\nd\te", "\x0b\x0c", "nul\x00after", "\x1b[31mred", "del\x7fc1\u009b", "\ufeffmark",
		"=1+1", "+1", "-1", "-1+1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", " =1", "＝1", "=cmd|' /C calc'!A0", `=HYPERLINK("https://example.com")`, "'=1", `"`, `a"b,c;d`,
		"x\r\nEND:VEVENT\r\nBEGIN:VEVENT", `\`, `\n`, `\\;\,`, "a;b:c,d",
		"{n}", "{name}{by}", "{n:one|many}", "%s%n%d", "${x}", "<!--", "-->", "]]>", "<![CDATA[", "&#0;", "&lt;", "</title></svg><script>", "\ufffe\uffff", "\U0001fffe",
		"👩🏽‍⚕️🐴", "\U000e0067\U000e0062", strings.Repeat("e\u0301", 40), "a"+strings.Repeat("\u0300", 90), "\u0300", "\u200b", "\u00a0", "\u3000",
		"\xff", "a\xc0\xafb", "\xed\xa0\x80", "\xf4\x90\x80\x80", "\xe2\x82", // no UTF-8: overlong, half a surrogate, beyond Unicode, cut
		strings.Repeat("W", 100), strings.Repeat("馬", 100), strings.Repeat("😀", 101), strings.Repeat("a b ", 500), strings.Repeat("x", 1<<20), strings.Repeat("\u202e", 1<<20),
	)
}
