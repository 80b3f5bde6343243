package main

import (
	"cmp"
	"context"
	"sync"

	"wintertop/forecast"
)

// answers is all that can be said of a trial on its as-of day; what is nil was
// not asked for, or cannot be said.
type answers struct {
	looks    []forecast.Outlook
	verified []forecast.Verification
	crossed  *forecast.Crosses
	sowing   *forecast.SowPlan
	plans    []*forecast.TrialPlan
}

// answer works out everything, side by side: none of it needs another. demand
// may be nil. The error is that of the first part that has one.
func (k *known) answer(ctx context.Context, goal forecast.Goal, demand *forecast.Demand, verify bool) (answers, error) {
	var a answers
	parts := []func(context.Context, *known) error{
		func(ctx context.Context, k *known) (err error) { a.looks, err = k.look(ctx, goal); return err },
		func(ctx context.Context, k *known) (err error) {
			if verify {
				a.verified, k.findings, err = k.verified(ctx)
			}
			return err
		},
		func(ctx context.Context, k *known) (err error) { a.crossed, err = k.crosses(ctx); return err },
		func(ctx context.Context, k *known) (err error) {
			if demand != nil {
				a.sowing, err = k.sowIfPossible(ctx, demand)
			}
			return err
		},
		func(_ context.Context, k *known) (err error) { a.plans, err = k.plans(); return err },
	}
	own := make([]known, len(parts)) // each with findings of its own
	err := sideBySide(len(parts), func(i int) error {
		own[i] = *k
		own[i].findings = nil
		return parts[i](ctx, &own[i])
	})
	if err != nil {
		return a, err
	}
	for i := range parts {
		k.findings = append(k.findings, own[i].findings...)
	}
	return a, nil
}

// sideBySide does n things at once. The error is the first one's that has one; a
// panic is one.
func sideBySide(n int, do func(i int) error) error {
	errs := make([]error, n)
	var running sync.WaitGroup
	for i := range n {
		running.Go(func() { errs[i] = caught(func() error { return do(i) }) })
	}
	running.Wait()
	return cmp.Or(errs...)
}

// meanwhile begins a thing and gives what waits for its result.
func meanwhile[T any](do func() (T, error)) func() (T, error) {
	var result T
	var err error
	done := make(chan struct{})
	go func() {
		defer close(done)
		err = caught(func() (err error) { result, err = do(); return err })
	}()
	return func() (T, error) {
		<-done
		return result, err
	}
}

// caught makes an error of a panic.
func caught(do func() error) (err error) {
	defer func() {
		if v := recover(); v != nil {
			err = &internalError{v}
		}
	}()
	return do()
}
