// The contract: everything that crosses a wire, in one place. The pages take types from here and values from the leaves.
export * from './batch.ts';
export * from './commands.ts';
export * from './cost.ts';
export * from './costTerms.ts';
export * from './fields.ts';
export * from './instant.ts';
export * from './limits.ts';
export * from './loopback.ts';
export * from './plan.ts';
export * from './readings.ts';
export * from './records.ts';
export * from './refusal.ts';
export * from './rejection.ts';
export * from './senml.ts';
export * from './settings.ts';
export * from './setupCards.ts';
export * from './shop.ts';
