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
    /// <summary>Ids of the cases it came from; empty where no case started it.</summary>
    public ImmutableArray<string> Cases { get; init; } = [];

    /// <summary>The day by which its measure should have moved; null where nobody said.</summary>
    public DateOnly? MeasureBy { get; init; }

    /// <summary>True where it had been decided and not closed by a date.</summary>
    public bool OpenAt(DateOnly asOf) => Opened <= asOf && !(Closed <= asOf);

    public bool OverdueAt(DateOnly asOf) => OpenAt(asOf) && Due < asOf;

    /// <summary>Days since it was decided.</summary>
    public int AgeAt(DateOnly asOf) => asOf.DayNumber - Opened.DayNumber;
}
