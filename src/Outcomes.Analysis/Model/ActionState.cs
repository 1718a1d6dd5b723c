using System.Collections.Immutable;

namespace Outcomes.Analysis;

/// <summary>The state of a department's actions on a date.</summary>
/// <param name="Open">Those not closed, overdue ones first, then by due date and id.</param>
/// <param name="Overdue">How many of them are past their date.</param>
/// <param name="WithoutEffect">Closed without saying what they brought about.</param>
/// <param name="Closed">Closed within the report month, effect told.</param>
public sealed record ActionState(ImmutableArray<DepartmentAction> Open, int Overdue, ImmutableArray<DepartmentAction> WithoutEffect,
    ImmutableArray<DepartmentAction> Closed)
{
    public static readonly ActionState None = new([], 0, [], []);

    /// <summary>The date.</summary>
    public DateOnly AsOf { get; init; }

    /// <summary>Actions with a measure, and its counts before and after.</summary>
    public ImmutableArray<ActionFollowUp> Followed { get; init; } = [];

    public bool IsEmpty => Open.IsEmpty && WithoutEffect.IsEmpty && Closed.IsEmpty && Followed.IsEmpty;

    /// <summary>What is open, overdue and closed without an effect, as of a date.</summary>
    public static ActionState Of(IEnumerable<DepartmentAction> actions, DateOnly asOf, Records.Month month)
    {
        ArgumentNullException.ThrowIfNull(actions);
        var all = actions.ToArray();
        var closed = all.Where(action => action.Closed <= asOf).OrderBy(action => action.Closed)
            .ThenBy(action => action.Id, StringComparer.Ordinal).ToArray();
        return new(
            [.. all.Where(action => action.OpenAt(asOf)).OrderBy(action => action.Due).ThenBy(action => action.Id, StringComparer.Ordinal)],
            all.Count(action => action.OverdueAt(asOf)),
            [.. closed.Where(action => string.IsNullOrWhiteSpace(action.Effect))],
            [.. closed.Where(action => !string.IsNullOrWhiteSpace(action.Effect) && Records.Month.Of(action.Closed!.Value) == month)])
        { AsOf = asOf };
    }
}
