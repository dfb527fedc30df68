package api

import (
	"encoding/json"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline/report"
	"whorl.example/vitals/words"
	"whorl.example/wasm/checks"
)

// Numbers in words agree with a package that knows them in 71 languages (npm n2words);
// American English has no "and" and no commas in them.
func TestNumbersAreSaidAsN2wordsSaysThem(t *testing.T) {
	t.Parallel()
	modules := checks.NPM(t, "n2words@4.0.0")
	numbers := []int{100000, 123456, 1000000, 1000001, 2300000, 21000, 31021, 999999999}
	for n := range 10000 {
		numbers = append(numbers, n)
	}
	list, _ := json.Marshal(numbers)
	for _, lang := range words.Langs() {
		region := map[words.Lang]string{"en": "en-US", "es": "es-MX"}[lang]
		script := "import(process.argv[1]).then(m=>console.log(JSON.stringify(" + string(list) + ".map(n=>m.toCardinal(n)))))"
		out, err := exec.Command("node", "-e", script, filepath.Join(modules, "n2words", "src", region+".js")).Output()
		td.Require(t).CmpNoError(err)
		var want []string
		td.Require(t).CmpNoError(json.Unmarshal(out, &want))
		tail := report.Spell("0.5 kg", lang)[0].Say
		tail = strings.TrimPrefix(tail, report.Spell("0", lang)[0].Say)
		for i, n := range numbers {
			got := strings.TrimSuffix(report.Spell(strconv.Itoa(n)+".5 kg", lang)[0].Say, tail)
			// Before mil the uno is shortened (RAE, Diccionario panhispánico de dudas, "uno"), which the package leaves out.
			w := strings.NewReplacer(" and ", " ", ",", "", "veintiuno mil", "veintiún mil", " uno mil", " un mil").Replace(want[i])
			// The package writes dieciseis, veintidos and the like without their accents.
			bare := strings.NewReplacer("á", "a", "é", "e", "í", "i", "ó", "o", "ú", "u")
			if bare.Replace(got) != bare.Replace(w) {
				t.Fatalf("%s: %d is said %q and not %q", lang, n, got, w)
			}
		}
	}
}
