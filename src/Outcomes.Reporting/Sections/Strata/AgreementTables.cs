using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Page;

/// <summary>How far answers agree that records hold twice.</summary>
internal static class AgreementTables
{
    private static readonly TableColumn[] Columns =
    [
        "Held twice", "Where", TableColumn.Num("Both known"), TableColumn.Num("Same answer"),
        TableColumn.Num("Kappa (95 % interval)"), "Where they differ",
    ];

    public static void Write(Html html, SectionFigures section)
    {
        if (section.Agreements.IsEmpty)
            return;
        html.Add($"<p>As recorded, before a rule blanks "
            + $"what contradicts itself; only records that hold both. Kappa is the agreement beyond what chance would give with the same "
            + $"totals (Cohen 1960; interval of Fleiss, Cohen and Everitt 1969, good from some fifty records); answers further "
            + $"apart disagree more. It depends on how common the answers are, so it compares neither departments nor people, "
            + $"and no words grade it. Two answers that agree may both be wrong, and one copied from the other agrees by itself.</p>");
        Table.Write(html, $"t-{section.Id}", section.Definition.Title, Columns, () =>
        {
            foreach (var each in section.Agreements)
                Table.Row(html, Columns, each.Pair.Title, $"{each.Pair.First}; {each.Pair.Second}", Wording.Number(each.Both),
                    Wording.Fraction(new Count(each.Agree, each.Both, 0)), Kappa(each), Differ(each));
        }, "wordy");
    }

    private static string Kappa(AgreementFigures each) => each.Kappa is not { } kappa ? "none: all answers alike"
        : kappa.WhyNoInterval is not null ? $"{Two(kappa.Value)}; too little disagreement for an interval"
        : $"{Two(kappa.Value)} ({Two(kappa.Lower)}{Wording.Space}to{Wording.Space}{Two(kappa.Upper)})";

    private static string Differ(AgreementFigures each)
    {
        var cells = from i in Enumerable.Range(0, each.Pair.Answers.Length)
                    from j in Enumerable.Range(0, each.Pair.Answers.Length)
                    where i != j && each.Table[i][j] > 0
                    select $"{Wording.Number(each.Table[i][j])} × “{each.Pair.Answers[i].Title}” then “{each.Pair.Answers[j].Title}”";
        return string.Join(", ", cells);
    }

    private static string Two(double value) => value.ToString("0.00", CultureInfo.InvariantCulture);
}
