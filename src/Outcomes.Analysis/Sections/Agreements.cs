using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;

namespace Outcomes.Analysis;

/// <summary>How far two places agree on what the records hold twice.</summary>
internal static class Agreements
{
    /// <summary>Each pair of a section that at least one record holds, over all months up to the report month.</summary>
    public static ImmutableArray<AgreementFigures> Analyse(SectionDefinition section, DepartmentCounts department) =>
        [.. section.Agreement.Select(pair => Tabulate(pair, department)).Where(agreement => agreement.Both > 0)];

    private static AgreementFigures Tabulate(AgreementPair pair, DepartmentCounts department)
    {
        var table = new long[pair.Answers.Length, pair.Answers.Length];
        foreach (var (first, second, records) in department.Agreements.GetValueOrDefault(pair, []))
            table[first, second] += records;
        var of = Enumerable.Range(0, pair.Answers.Length);
        return new(pair, [.. of.Select(i => of.Select(j => table[i, j]).ToImmutableArray())], department.Book.First, department.Month);
    }
}
