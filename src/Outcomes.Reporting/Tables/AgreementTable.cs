using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>agreement.csv</c>.</summary>
internal sealed record AgreementRow(AgreementFigures Pair, string Part, long N)
{
    public string? First { get; init; }

    public string? Second { get; init; }

    public long? Agree { get; init; }

    public KappaEstimate? Kappa { get; init; }
}

/// <summary>The table of what records hold twice: for the department only.</summary>
internal static class AgreementTable
{
    public static readonly CsvTable<AgreementRow> Table = new CsvTable<AgreementRow>(
        "tables/agreement.csv",
        "How far two answers of a record about one fact agree, as recorded, with kappa",
        "For each pair of answers one row a combination (part cell), then one row with kappa over all records that have both.")
        .Word("pair", "Name of the pair of answers.", row => row.Pair.Pair.Id).Period(row => $"{row.Pair.From}/{row.Pair.To}")
        .Word("part", "cell for one combination of answers, kappa for all of them.", row => row.Part, "cell", "kappa")
        .Text("first", "The first answer; empty for kappa.", row => row.First)
        .Text("second", "The second answer; empty for kappa.", row => row.Second)
        .Number("n", "Records with these two answers; for kappa, with any two.", row => row.N)
        .Integer("agree", "Records whose two answers are the same; for kappa only.", row => row.Agree)
        .Decimal(SharedColumns.Fraction("agreement", "Share of records whose two answers are the same."), row => row.Kappa?.Observed)
        .Decimal(SharedColumns.Fraction("by_chance", "Share expected by chance."), row => row.Kappa?.Expected)
        .Interval("Kappa: agreement beyond chance, 1 at most; empty where all records have one and the same answer.",
            row => row.Kappa is not { } kappa ? default
                : kappa.WhyNoInterval is null ? new(kappa.Value, kappa.Lower, kappa.Upper, kappa.Level * 100, null)
                : IntervalCells.Of(kappa.Value, null, null))
        .Method(row => row.Kappa is null ? null : row.Pair.Weights == KappaWeights.Linear ? "kappa_linear" : "kappa")
        .With(schema => schema with { DepartmentOnly = true, Key = ["pair", "period", "part", "first", "second"] });

    public static void Write(Func<string, string> place, IEnumerable<AgreementFigures> pairs) => Table.Write(place, pairs.SelectMany(Rows));

    private static IEnumerable<AgreementRow> Rows(AgreementFigures pair)
    {
        for (var i = 0; i < pair.Pair.Answers.Length; i++)
            for (var j = 0; j < pair.Pair.Answers.Length; j++)
                yield return new(pair, "cell", pair.Table[i][j])
                {
                    First = pair.Pair.Answers[i].Title,
                    Second = pair.Pair.Answers[j].Title
                };
        yield return new(pair, "kappa", pair.Both) { Agree = pair.Agree, Kappa = pair.Kappa };
    }
}
