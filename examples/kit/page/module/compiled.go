//go:build !embedded

package module

func embedded(Module) ([]byte, error) { return nil, nil }
