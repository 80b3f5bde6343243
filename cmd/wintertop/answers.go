package main

import (
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
		func(ctx context.Context, k *known) (err error) { a.plans, err = k.plannedIfAny(ctx); return err },
	}
	// Each has findings and an error of its own, taken in this order.
	own, errs := make([]known, len(parts)), make([]error, len(parts))
	var running sync.WaitGroup
	for i, part := range parts {
		own[i] = *k
		own[i].findings = nil
		running.Go(func() {
			defer func() {
				if v := recover(); v != nil {
					errs[i] = &internalError{v}
				}
			}()
			errs[i] = part(ctx, &own[i])
		})
	}
	running.Wait()
	for i := range parts {
		if errs[i] != nil {
			return a, errs[i]
		}
		k.findings = append(k.findings, own[i].findings...)
	}
	return a, nil
}
