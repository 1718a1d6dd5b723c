using System.Collections.Immutable;

namespace Outcomes.Analysis;

/// <summary>What a review meeting decided to do.</summary>
/// <param name="Id">Its id, a stable name.</param>
/// <param name="What">What is to be done.</param>
/// <param name="Owner">The role that owns it, never a name.</param>
/// <param name="Due">When it should be done.</param>
/// <param name="Measure">The measure that should show it; null where none does.</param>
/// <param name="Opened">When it was decided.</param>
/// <param name="Closed">When it was closed; null while open.</param>
/// <param name="Effect">What it brought about; asked for on closing.</param>
public sealed record DepartmentAction(
    string Id, string What, string Owner, DateOnly Due, string? Measure, DateOnly Opened, DateOnly? Closed, string? Effect)
{
    /// <summary>True where it had been decided and not closed by a date.</summary>
    public bool OpenAt(DateOnly asOf) => Opened <= asOf && !(Closed <= asOf);

    public bool OverdueAt(DateOnly asOf) => OpenAt(asOf) && Due < asOf;

    /// <summary>Days since it was decided.</summary>
    public int AgeAt(DateOnly asOf) => asOf.DayNumber - Opened.DayNumber;
}

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

    public bool IsEmpty => Open.IsEmpty && WithoutEffect.IsEmpty && Closed.IsEmpty;

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
