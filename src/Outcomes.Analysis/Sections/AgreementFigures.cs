using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>One fact that records hold twice: how far the two agree.</summary>
/// <param name="Pair">What is held twice, and where.</param>
/// <param name="Table">Records whose first answer is i and whose second is j.</param>
/// <param name="From">First month.</param>
/// <param name="To">Last month.</param>
public sealed record AgreementFigures(AgreementPair Pair, ImmutableArray<ImmutableArray<long>> Table, Month From, Month To)
{
    /// <summary>How disagreements count in kappa: by how many answers apart where they have an order of more than two.</summary>
    public KappaWeights Weights => Pair.Answers.Length > 2 ? KappaWeights.Linear : KappaWeights.None;

    /// <summary>Records with both answers.</summary>
    public long Both => Table.Sum(row => row.Sum());

    /// <summary>Those with the same answer twice.</summary>
    public long Agree => Table.Select((row, i) => row[i]).Sum();

    /// <summary>Agreement beyond chance; null where all stand in one and the same category.</summary>
    public KappaEstimate? Kappa => Statistics.Kappa.Estimate([.. Table.Select(row => (IReadOnlyList<long>)row)], Weights);
}
