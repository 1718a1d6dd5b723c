using Outcomes.Measures.Review;

namespace Outcomes.Analysis;

/// <summary>How many new cases of a kind there are.</summary>
public sealed record ReviewCount(CaseKind Kind, int Cases)
{
    /// <summary>How many of them are records of earlier months.</summary>
    public int Late { get; init; }
}
