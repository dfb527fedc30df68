module whorl.example/examples/wasi

go 1.26.0

require (
	github.com/maxatome/go-testdeep v1.16.0
	github.com/tetratelabs/wazero v1.12.0
	whorl.example v0.0.0
)

require (
	github.com/shopspring/decimal v1.6.0 // indirect
	golang.org/x/sys v0.44.0 // indirect
	rsc.io/qr v0.2.0 // indirect
)

replace whorl.example => ../..
