/** An outcome that is worked out when somebody first looks into it: of a long file few builds are looked at at once. */
import type { BuildBinding } from '../bind/binding.ts';
import type { Axis, Tensor } from '../evaluate/value.ts';
import type { SlotId, View } from '../ir.ts';
import type { Cause, CheckOutcome, Outcome, PlanProblem, SlotOutcome } from './outcome.ts';
import type { Plan } from './run.ts';

export class PlannedLater implements Outcome {
  readonly binding: BuildBinding;
  readonly texts: readonly string[];
  private readonly make: (previous: Plan | undefined) => Plan;
  private plan: Plan | null = null;
  /** Let go of once this one is planned. */
  private previous: Plan | undefined;

  constructor(
    binding: BuildBinding,
    texts: readonly string[],
    previous: Plan | undefined,
    make: (previous: Plan | undefined) => Plan,
  ) {
    this.binding = binding;
    this.texts = texts;
    this.previous = previous;
    this.make = make;
  }

  get isPlanned(): boolean {
    return this.plan !== null;
  }

  /** Its own plan, or where it never came to that, the last one before it. */
  get lastPlan(): Plan | undefined {
    return this.plan ?? this.previous;
  }

  get axes(): ReadonlyMap<number, Axis> {
    return this.outcome().axes;
  }

  get slots(): readonly SlotOutcome[] {
    return this.outcome().slots;
  }

  get checks(): readonly CheckOutcome[] {
    return this.outcome().checks;
  }

  get causes(): readonly Cause[] {
    return this.outcome().causes;
  }

  get readAgain(): Outcome['readAgain'] {
    return this.outcome().readAgain;
  }

  get toMeasure(): Outcome['toMeasure'] {
    return this.outcome().toMeasure;
  }

  get problems(): readonly PlanProblem[] {
    return this.outcome().problems;
  }

  tensorOf(slot: SlotId, view?: View): Tensor | null {
    return this.outcome().tensorOf(slot, view);
  }

  private outcome(): Outcome {
    this.plan ??= this.make(this.previous);
    this.previous = undefined;
    return this.plan.outcome();
  }
}
