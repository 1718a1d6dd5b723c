using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>The table of what records hold twice: for the department only.</summary>
public static class AgreementTable
{
    public static readonly ImmutableArray<string> Columns =
        [
            "pair", "period", "part", "first", "second", "n", "agree", "agreement", "by_chance", "value", "lower", "upper", "level_pct",
            "method"
        ];

    /// <summary>
    /// A row a cell of each pair's table, in which <c>n</c> counts records with these two answers; then its <c>kappa</c>, whose <c>n</c>
    /// is all with both.
    /// </summary>
    public static void Write(string path, IEnumerable<AgreementFigures> rows) => TableWriter.ToFile(path, Columns, table =>
    {
        foreach (var each in rows)
        {
            var period = $"{each.From}/{each.To}";
            for (var i = 0; i < each.Pair.Answers.Length; i++)
                for (var j = 0; j < each.Pair.Answers.Length; j++)
                    table.Text(each.Pair.Id).Text(period).Text("cell").Text(each.Pair.Answers[i].Title).Text(each.Pair.Answers[j].Title)
                        .Integer(each.Table[i][j]).Empty()
                        .Number(null).Number(null).Number(null).Number(null).Number(null).Number(null).Empty().End();
            var kappa = each.Kappa;
            table.Text(each.Pair.Id).Text(period).Text("kappa").Empty().Empty().Integer(each.Both).Integer(each.Agree)
                .Number(kappa?.Observed).Number(kappa?.Expected).Number(kappa?.Value).Number(kappa?.Lower).Number(kappa?.Upper)
                .Number(kappa?.Level * 100)
                .Text(kappa is null ? null : each.Weights == KappaWeights.Linear ? "kappa_linear" : "kappa").End();
        }
    });
}
