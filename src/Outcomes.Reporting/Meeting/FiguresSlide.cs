using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Meeting;

/// <summary>The headline measures: this month, 12 months, and the verdict in the words of <see cref="VerdictWording"/>.</summary>
internal static class FiguresSlide
{
    private static readonly TableColumn[] Columns = ["Measure", TableColumn.Num("This month"), "12 months (95 % interval)", "Verdict"];

    public static void Write(Html html, Figures figures)
    {
        MeetingPage.Open(html, "figures", "The month in figures");
        html.Add($"<p>{Procedures(figures)}</p>");
        MeasureFigures[] headline = [.. figures.Measures.Where(each => each is { Headline: true, NotCollected: null }
            && each.Measure.Kind == MeasureKind.Proportion)];
        if (headline.Length == 0)
            html.Add($"<p>No headline measure has figures.</p>");
        else
            Table.Write(html, "t-figures", $"Headline measures, {Wording.Name(figures.Month)}", Columns, () =>
            {
                foreach (var each in headline)
                    Row(html, each);
            });
        html.Add($"<p class=\"sub\">Met out of eligible records. The last 12 months are {Wording.Span(figures.YearFrom, figures.Month)}. "
            + $"The report has the rest.</p>");
        MeetingPage.Close(html);
    }

    private static string Procedures(Figures figures)
    {
        var month = figures.ProceduresIn(figures.Month, figures.Month);
        return $"{Wording.Some(month, "procedure")} {(month == 1 ? "was" : "were")} recorded in {Wording.Name(figures.Month)}, "
            + $"{Wording.Number(figures.ProceduresIn(figures.YearFrom, figures.Month))} in {Wording.Span(figures.YearFrom, figures.Month)}."
            + (figures.Partial ? $" The month was not over on {Wording.Date(figures.AsOf)}." : "");
    }

    private static void Row(Html html, MeasureFigures each)
    {
        html.Add(
            $"""<tr><th scope="row">{each.Measure.Title}</th><td class="n">{Fraction(each.ThisMonth)}</td><td>{Year(each)}</td><td>""");
        if (each.Verdict is { } verdict)
        {
            html.Add($"<strong>{VerdictWording.Label(verdict)}</strong>");
            if (VerdictWording.Sentence(verdict) is { Length: > 0 } sentence)
                html.Add($"<span class=\"sub\">{sentence}</span>");
        }

        html.Add($"</td></tr>\n");
    }

    private static string Fraction(Statistics.Count count) => count.Eligible == 0 ? "none eligible" : Wording.Fraction(count);

    private static string Year(MeasureFigures each) => each.YearEstimate is not { } estimate ? "none eligible"
        : $"{Wording.Fraction(each.Year)}, {Wording.Rate(estimate.Value, each.Measure.Per)} "
            + $"({Wording.Range(estimate.Lower, estimate.Upper, each.Measure.Per)})"
            + (each.Year.Missing > 0 ? $"; {Wording.Number(each.Year.Missing)} missing" : "");
}
