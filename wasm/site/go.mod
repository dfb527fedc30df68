module whorl.example/wasm/site

go 1.26.0

require (
	github.com/andybalholm/brotli v1.2.8
	github.com/chromedp/cdproto v0.159.0
	github.com/chromedp/chromedp v0.23.0
	github.com/evanw/esbuild v0.28.2
	github.com/makiuchi-d/gozxing v0.1.1
	github.com/maxatome/go-testdeep v1.16.0
	github.com/shopspring/decimal v1.6.0
	github.com/spdx/tools-golang v0.5.7
	whorl.example v0.0.0
)

require (
	github.com/anchore/go-struct-converter v0.1.0 // indirect
	github.com/go-json-experiment/json v1.27.2 // indirect
	golang.org/x/sys v0.44.0 // indirect
	golang.org/x/text v0.14.0 // indirect
	golang.org/x/xerrors v0.0.0-20200804184101-5ec99f83aff1 // indirect
	rsc.io/qr v0.2.0 // indirect
)

replace whorl.example => ../..
