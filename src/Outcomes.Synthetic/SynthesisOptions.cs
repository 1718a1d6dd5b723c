namespace Outcomes.Synthetic;

/// <summary>What to invent. The same options give the same bytes on any machine, on any day.</summary>
public sealed record SynthesisOptions
{
    /// <summary>Sets every draw.</summary>
    public required int Seed { get; init; }

    /// <summary>Procedures over all months together; null for the invented department's own volume (about 14 a month).</summary>
    public int? Procedures { get; init; }

    /// <summary>How many months.</summary>
    public int Months { get; init; } = 36;

    /// <summary>The first day of the first month, 2000 or later.</summary>
    public DateOnly FirstMonth { get; init; } = new(2023, 4, 1);

    /// <summary>The last day that a procedure may have: the reference date of everything in the files.</summary>
    public DateOnly LastDay => FirstMonth.AddMonths(Months).AddDays(-1);

    /// <summary>These options, or an exception that says which one cannot be.</summary>
    internal SynthesisOptions Checked()
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(Procedures ?? 1, 1, nameof(Procedures));
        ArgumentOutOfRangeException.ThrowIfLessThan(Months, 1, nameof(Months));
        ArgumentOutOfRangeException.ThrowIfGreaterThan(Months, 600, nameof(Months));
        ArgumentOutOfRangeException.ThrowIfNotEqual(FirstMonth.Day, 1, nameof(FirstMonth));
        ArgumentOutOfRangeException.ThrowIfLessThan(FirstMonth.Year, 2000, nameof(FirstMonth));
        ArgumentOutOfRangeException.ThrowIfGreaterThan(LastDay.Year, 2100, nameof(Months));
        return this;
    }
}
