using System.Collections.Immutable;

namespace Outcomes.Reporting.Model;

/// <summary>What says which plans a record went through.</summary>
public enum LadderBasis
{
    /// <summary>The order of its attempts.</summary>
    Attempts,

    /// <summary>The plan fields of the record: first and final plan, so that a return shows only where a field says so.</summary>
    PlanFields,

    /// <summary>Attempts where there are any, else the plan fields.</summary>
    Both,
}

/// <summary>A plan: records that used it, and those of them that it succeeded in.</summary>
/// <param name="Plan"><c>A</c> intubation, <c>B</c> supraglottic airway, <c>C</c> facemask, <c>D</c> front-of-neck access.</param>
/// <param name="Used">Records that used it.</param>
/// <param name="Succeeded">Records of those where it gave the airway that lasted.</param>
public sealed record LadderPlan(string Plan, long Used, long Succeeded);

/// <summary>Records that went from one plan to another, or to <c>wake</c>.</summary>
public sealed record LadderStep(string From, string To, long Records);

/// <summary>How many records started at A, left it, to where, and with what success.</summary>
/// <param name="Basis">What says which plans were used.</param>
/// <param name="Records">Records of the population.</param>
/// <param name="Missing">Records that do not say which plans were used.</param>
/// <param name="Plans">Plans A to D.</param>
/// <param name="Steps">Steps between them, those not taken left out.</param>
public sealed record Ladder(
    LadderBasis Basis, long Records, long Missing, ImmutableArray<LadderPlan> Plans, ImmutableArray<LadderStep> Steps);
