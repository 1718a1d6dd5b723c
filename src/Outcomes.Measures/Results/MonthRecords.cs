using Outcomes.Records;

namespace Outcomes.Measures;

/// <summary>Records counted in one month.</summary>
public sealed record MonthRecords(Month Month, long Records);

/// <summary>Records of one month that have one value of a field; <paramref name="Level"/> is null for those without any.</summary>
public sealed record LevelCount(Month Month, string? Level, long Records)
{
    /// <summary>Their site, where asked by site; null for those that name none.</summary>
    public string? Site { get; init; }
}
