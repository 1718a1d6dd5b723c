using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Page;

/// <summary>What the records hold twice, and how far the two agree: nothing where nothing is held twice.</summary>
internal static class AgreementParagraph
{
    private static readonly TableColumn[] Columns =
    [
        "Held twice", "Where", TableColumn.Num("Both known"), TableColumn.Num("Same answer"),
        TableColumn.Num("Kappa (95 % interval)"), "Where they differ",
    ];

    public static void Write(Html html, Figures model)
    {
        if (model.Agreements.IsEmpty)
            return;
        var first = model.Agreements[0];
        html.Add($"<h3>Recorded twice: do the two agree?</h3><p>{Wording.Span(first.From, first.To)}, as recorded, before a rule blanks "
            + $"what contradicts itself; only records that hold both. Kappa is the agreement beyond what chance would give with the same "
            + $"totals (Cohen 1960; interval of Fleiss, Cohen and Everitt 1969, good from some fifty records); numbers of attempts further "
            + $"apart disagree more. It depends on how common the answers are, so it compares neither departments nor people, "
            + $"and no words grade it. Two answers that agree may both be wrong, and one copied from the other agrees by itself.</p>");
        Table.Write(html, "t-agreement", "Answers that records hold twice", Columns, () =>
        {
            foreach (var each in model.Agreements)
                Table.Row(html, Columns, each.Title, $"{each.First}; {each.Second}", Wording.Number(each.Both),
                    Wording.Fraction(new Count(each.Agree, each.Both, 0)), Kappa(each), Differ(each));
        }, "wordy");
    }

    private static string Kappa(AgreementFigures each) => each.Kappa is not { } kappa ? "none: all answers alike"
        : each.Agree == each.Both ? $"{Two(kappa.Value)}; no disagreement, so no interval"
        : $"{Two(kappa.Value)} ({Two(kappa.Lower)}{Wording.Space}to{Wording.Space}{Two(kappa.Upper)})";

    private static string Differ(AgreementFigures each)
    {
        var cells = from i in Enumerable.Range(0, each.Categories.Length)
                    from j in Enumerable.Range(0, each.Categories.Length)
                    where i != j && each.Table[i][j] > 0
                    select $"{Wording.Number(each.Table[i][j])} × “{each.Categories[i]}” then “{each.Categories[j]}”";
        return string.Join(", ", cells);
    }

    private static string Two(double value) => value.ToString("0.00", CultureInfo.InvariantCulture);
}
