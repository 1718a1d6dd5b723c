using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;

namespace Outcomes.Measures;

/// <summary>One record that counts, as it was recorded.</summary>
/// <param name="Source">The source's order.</param>
/// <param name="Row">0-based row in it.</param>
/// <param name="RecordId">Its key.</param>
/// <param name="Fired">Indexes of the flags that fired, ascending.</param>
/// <param name="Values">Values of the columns asked, as a person writes them (yes, no, a code, a number); a missing one is absent.</param>
public sealed record JudgedRecord(
    int Source, int Row, string RecordId, ImmutableArray<int> Fired, ImmutableDictionary<string, string> Values)
{
    /// <summary>A value that was too low to measure.</summary>
    public const string Unrecordable = "unrecordable";

    /// <summary>What each measure says of it, in their order; set apart by <see cref="Engine.Review"/>.</summary>
    public ImmutableArray<Answer> Answers { get; init; } = [];
}
