using System.Collections.Immutable;
using Outcomes.Records;

namespace Outcomes.Measures;

/// <summary>Quantities by value, month, stratum and level.</summary>
public sealed record ValueResult(ImmutableArray<ValueRow> Rows, ImmutableArray<NotCollected> NotCollected,
    ImmutableArray<RestsOnAssumption> Assumptions, ImmutableArray<string> StrataNotCollected);

/// <summary>
/// How many eligible records have one value of a quantity, in units of its last decimal place (<see cref="Catalogue.Measure.Scale"/>);
/// <paramref name="Value"/> is null for those where it is missing.
/// </summary>
public sealed record ValueRow(string Measure, Month Month, string Stratum, string Level, int? Value, long N)
{
    /// <summary>True where the reading was too low to measure: no value and none missing, counted beside the median.</summary>
    public bool Unrecordable { get; init; }
}
