package lesson

import "sync"

// A memo keeps the last result of a long computation, for a slider on which it does not depend.
type memo[K comparable, V any] struct {
	mu    sync.Mutex
	key   K
	value V
	known bool
}

// of returns what compute returned for the key, or computes it. An error is not kept.
func (m *memo[K, V]) of(key K, compute func() (V, error)) (V, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.known && m.key == key {
		return m.value, nil
	}
	value, err := compute()
	m.key, m.value, m.known = key, value, err == nil
	return value, err
}
