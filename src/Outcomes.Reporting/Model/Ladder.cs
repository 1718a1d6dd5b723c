using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Model;

/// <summary>A plan: records that started with it, used it and left it, and those it succeeded in of those whose outcome is known.</summary>
/// <param name="Plan"><c>A</c> laryngoscopy, <c>B</c> supraglottic airway, <c>C</c> facemask, <c>D</c> front of neck.</param>
/// <param name="Started">Records that started with it.</param>
/// <param name="Used">Records that used it.</param>
/// <param name="Left">Records that left it for another plan or an exit.</param>
/// <param name="Succeeded">Records in which it succeeded.</param>
/// <param name="OutcomeKnown">Records that say whether it did.</param>
/// <param name="StartedShare">The interval of its share of all starts; those of A to D hold together. Null when no start is known.</param>
public sealed record LadderPlan(string Plan, long Started, long Used, long Left, long Succeeded, long OutcomeKnown, Bounds? StartedShare = null);

/// <summary>Records that went from one plan to another, or to an exit: <c>woken</c> or <c>died</c>.</summary>
public sealed record LadderStep(string From, string To, long Records);

/// <summary>How many records started at A, left it, to where, and with what success.</summary>
/// <param name="Records">Emergency records of the period.</param>
/// <param name="FromAttempts">Read from the order of their attempts.</param>
/// <param name="FromPlanFields">Read from the plan fields.</param>
/// <param name="FromFinalPlan">Only the final plan is known: its use and success alone are counted.</param>
/// <param name="Unknown">Nothing is known about plans.</param>
/// <param name="Plans">Plans A to D.</param>
/// <param name="Steps">Steps between them that were taken.</param>
public sealed record Ladder(
    long Records, long FromAttempts, long FromPlanFields, long FromFinalPlan, long Unknown, ImmutableArray<LadderPlan> Plans,
    ImmutableArray<LadderStep> Steps);
