module whorl.example/examples/vectors/hosts

go 1.26.0

require (
	github.com/chromedp/chromedp v0.23.0
	github.com/maxatome/go-testdeep v1.16.0
	github.com/tetratelabs/wazero v1.12.0
	whorl.example v0.0.0
	whorl.example/examples/wasi v0.0.0
)

require (
	github.com/chromedp/cdproto v0.159.0 // indirect
	github.com/go-json-experiment/json v1.27.2 // indirect
	github.com/shopspring/decimal v1.6.0 // indirect
	golang.org/x/sys v0.44.0 // indirect
	rsc.io/qr v0.2.0 // indirect
)

replace (
	whorl.example => ../../..
	whorl.example/examples/wasi => ../../wasi
)
