using System.Collections.Immutable;
using Outcomes.Records;

namespace Outcomes.Measures;

/// <summary>A field of judged records, a value a record; null where it is missing.</summary>
/// <param name="Name">The field or derived column.</param>
/// <param name="Levels">Its values as tables write them; default for a number.</param>
/// <param name="Numbers">Its values; default for anything but a number.</param>
public sealed record DesignField(string Name, ImmutableArray<string?> Levels, ImmutableArray<double?> Numbers);

/// <summary>Judged records of one measure, in the order of their dates, then as the sources hold them.</summary>
/// <param name="Months">The month of each record.</param>
/// <param name="Met">Whether it met the measure.</param>
/// <param name="Fields">The fields asked, those that no source collects left out.</param>
/// <param name="NotCollected">Fields that no source collects.</param>
public sealed record Design(
    ImmutableArray<Month> Months, ImmutableArray<bool> Met, ImmutableArray<DesignField> Fields, ImmutableArray<string> NotCollected)
{
    /// <summary>Where each record stands: the order of its source and its row there.</summary>
    public ImmutableArray<(int Source, int Row)> Rows { get; init; } = [];
}
