using System.Collections.Immutable;
using AngleSharp.Html.Parser;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Reporting;
using Outcomes.Reporting.Drawings;
using Outcomes.Reporting.Page;
using Outcomes.Statistics;

namespace Outcomes.Tests.Reporting.Page;

public class ControlSectionTests
{
    // Montgomery DC, Introduction to Statistical Quality Control, ch. 7, cans of frozen orange juice: nonconforming in samples of 50. The
    // first thirty are those of NIST/SEMATECH e-Handbook 6.3.3.2 too; the 24 after the machine was adjusted are from memory, and their
    // printed mean, .1108, is asserted.
    private static readonly long[] First =
        [12, 15, 8, 10, 4, 7, 16, 9, 14, 10, 5, 6, 17, 12, 22, 8, 10, 5, 13, 11, 20, 18, 24, 15, 9, 12, 7, 13, 9, 6];

    private static readonly long[] After = [9, 6, 12, 5, 6, 4, 6, 3, 7, 6, 2, 4, 3, 6, 5, 4, 8, 5, 6, 7, 5, 6, 3, 5];

    [Fact]
    public void A_published_chart_comes_through_the_page_with_its_printed_centre_limits_and_the_one_sample_outside()
    {
        Assert.Equal(0.1108, After.Sum() / (50.0 * After.Length), 5e-5);
        // Without samples 15 and 23 the book prints centre .2150 and limits .0407 and .3893, and sees sample 41 below: the eleventh
        // after the baseline.
        long[] baseline = [.. First.Where((_, i) => i is not (14 or 22))];
        var report = Of([.. baseline, .. After], 28, LimitMethod.Normal);
        Assert.Equal([Samples.First.AddMonths(28 + 10)], report.Outside);
        var row = Section(report).QuerySelectorAll("#t-limits ~ tbody td, table:has(#t-limits) tbody td")
            .Select(cell => cell.TextContent).ToArray();
        Assert.Equal(["21.5\u00a0%", "10.0\u00a0% (5/50)", "4.1\u00a0% to 38.9\u00a0%"], row[..3]);
        // A month outside is drawn, and no word makes a verdict of it.
        Assert.DoesNotContain("outside", Section(report).QuerySelector("table:has(#t-limits)")!.TextContent,
            StringComparison.OrdinalIgnoreCase);
        Assert.Contains("Diamond", Svg(report), StringComparison.Ordinal);
    }

    [Fact]
    public void Months_that_vary_more_than_chance_have_wider_limits_beside_and_the_ratio_in_words()
    {
        // The thirty samples vary 1.66 times as much as chance (docs/statistics/control-charts.md). 21 of 50 lies beyond the usual upper
        // limit of .4102, and within p′'s .5284.
        var (usual, wider) = (Of([.. First, 21], 30, LimitMethod.Normal), Of([.. First, 21], 30, LimitMethod.Laney));
        var report = usual with { Wider = wider.Phases };
        var text = Section(report).Body!.TextContent;
        Assert.Contains("Neighbouring months of the baseline differ 1.66 times as much as chance would have it", text,
            StringComparison.Ordinal);
        Assert.Contains("Wider limits", text, StringComparison.Ordinal);
        Assert.NotEqual(Svg(usual), Svg(report));
    }

    [Fact]
    public void A_title_that_looks_like_markup_is_text_in_page_and_drawing()
    {
        const string title = "<script>alert(1)</script>\"&'";
        var report = Of([.. First, 21], 30, LimitMethod.Normal);
        report = report with { Id = "<b>", Title = title };
        var page = Section(report);
        Assert.Empty(page.QuerySelectorAll("script, b"));
        Assert.Contains(title, page.QuerySelector("summary")!.TextContent, StringComparison.Ordinal);
        Assert.Contains(title, page.QuerySelector("svg desc")!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_gap_and_a_phase_without_limits_are_drawn_and_said()
    {
        var counts = First.Select(met => new Count(met, 50, 0)).ToImmutableArray().SetItem(20, default);
        var phases = ChartPhases.Make(counts, [new(0, 12, "start"), new(24, 12, "a new device")],
            (points, baseline) => AttributeCharts.Proportions(points, baseline));
        var report = Of(First, 12, LimitMethod.Exact) with { Phases = phases };
        Assert.StartsWith("The baseline of this phase is not over.", ControlWording.Doubts(report), StringComparison.Ordinal);
        Assert.Contains("The baseline of this phase is not over.", Section(report).Body!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void Answers_that_all_agree_have_no_interval_and_answers_all_alike_no_kappa()
    {
        var page = Parse(Samples.Model() with
        {
            Sections =
            [
                new(new("agreement", "Recorded twice", "Do they agree?"), Samples.First, Samples.First.AddMonths(3))
                {
                    Agreements = [Held("a", "Held twice", [[7, 0], [0, 3]]), Held("b", "All alike", [[7, 0], [0, 0]])],
                },
            ],
        });
        var text = page.QuerySelector("table:has(#t-agreement)")!.TextContent;
        Assert.Contains("1.00; too little disagreement for an interval", text, StringComparison.Ordinal);
        Assert.Contains("none: all answers alike", text, StringComparison.Ordinal);
    }

    private static AgreementFigures Held(string id, string title, ImmutableArray<ImmutableArray<long>> table) =>
        new(new(id, title, "here", "there", [new("yes", "a", "b"), new("no", "not a", "not b")]), table, Samples.First,
            Samples.First.AddMonths(3));

    private static ControlChartFigures Of(long[] met, int baseline, LimitMethod method)
    {
        ImmutableArray<Count> counts = [.. met.Select(each => new Count(each, 50, 0))];
        return new()
        {
            Id = "cans",
            Title = "Cans",
            Charted = Charted.Proportion,
            Measure = new MeasureFigures { Measure = Samples.Definition("cans", "Cans", Direction.Down) },
            Months = [.. counts.Select((count, i) => new ChartedMonth(Samples.First.AddMonths(i), count.Met, count.Eligible))],
            Phases = ChartPhases.Make(counts, [new(0, baseline, "start")],
                (points, own) => AttributeCharts.Proportions(points, own, method)),
        };
    }

    private static string Svg(ControlChartFigures report) =>
        Charts.Draw(With(report), Slides.None).Single(chart => chart.Id == ControlPlot.Id(report)).Svg;

    private static Figures With(ControlChartFigures report) => Samples.Model() with { ControlCharts = new(null, [report], [], null) };

    private static AngleSharp.Dom.IDocument Section(ControlChartFigures report)
    {
        var whole = Parse(With(report));
        return new HtmlParser().ParseDocument(whole.QuerySelector("section[aria-labelledby=limits]")!.OuterHtml);
    }

    private static AngleSharp.Dom.IDocument Parse(Figures model) =>
        new HtmlParser().ParseDocument(Appendix.Html(model, Charts.Draw(model, Slides.None)));
}
