using Outcomes.Records;

namespace Outcomes.Measures;

/// <summary>A record and the highest flag that fires on it.</summary>
/// <param name="Month">Its month.</param>
/// <param name="RecordId">Its key.</param>
/// <param name="Flag">The flag's place among those asked.</param>
public readonly record struct HighestRecord(Month Month, string RecordId, int Flag);

/// <summary>How many records of a month have a flag as the highest that fires on them.</summary>
/// <param name="Month">The month.</param>
/// <param name="Flag">The flag's place among those asked.</param>
/// <param name="Records">How many.</param>
public sealed record HighestCount(Month Month, int Flag, long Records);
