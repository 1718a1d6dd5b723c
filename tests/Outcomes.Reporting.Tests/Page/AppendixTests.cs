using AngleSharp.Dom;
using AngleSharp.Html.Parser;
using Outcomes.Analysis;
using Outcomes.Reporting.Drawings;
using Outcomes.Reporting.Page;
using Outcomes.Statistics;

namespace Outcomes.Tests.Reporting.Page;

/// <summary>What the appendix holds, read by AngleSharp, a parser that follows the WHATWG HTML standard.</summary>
public class AppendixTests
{
    private static readonly Figures Model = Samples.Model();
    private static readonly string Text = Appendix.Html(Model, Charts.Draw(Model, Slides.None));
    private static readonly IDocument Page = Parse(Text);

    [Fact]
    public void Its_sections_are_all_there_in_order() => Assert.Equal(
        ["Read this first", "What this period was", "Summary", "Measure by measure", "Plan ladder", "Data quality", "Strata",
            "Definitions", "Methods", "Cautions"],
        Page.QuerySelectorAll("main > section > h2").Select(heading => heading.TextContent));

    [Fact]
    public void Every_chart_speaks_and_has_its_data_in_a_table()
    {
        var figures = Page.QuerySelectorAll("figure svg");
        Assert.Equal(6, figures.Length);
        Assert.All(figures, svg =>
        {
            Assert.Equal("img", svg.GetAttribute("role"));
            Assert.NotEmpty(svg.QuerySelector("title")!.TextContent);
            Assert.NotEmpty(svg.QuerySelector("desc")!.TextContent);
        });
        Assert.All(Page.QuerySelectorAll("article.measure"), article => Assert.True(article.QuerySelector("details table.data") is not null
            || article.TextContent.Contains("fewer than one event a quarter", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_month_without_cases_is_a_row_without_a_figure()
    {
        var row = Page.QuerySelectorAll("#d-first_pass ~ tbody tr")[9];
        Assert.Equal(["Jan 24", "no cases", "", "", "0"], row.Children.Select(cell => Words(cell)));
    }

    [Fact]
    public void A_percentage_in_the_summary_never_stands_without_its_count() => Assert.All(
        Page.QuerySelectorAll("table.summary tbody tr"), row =>
        {
            Assert.Matches("^[0-9,]+/[0-9,]+$", Words(row.Children[1]));
            Assert.Matches("^[0-9,]+/[0-9,]+$", Words(row.Children[2]));
            Assert.Matches(@"^[<>]?[0-9.]+ (%|per 1,000) \([<>0-9.]+ to [<>0-9.]+ (%|per 1,000)\)", Words(row.Children[3]));
        });

    [Fact]
    public void Bounds_for_the_missing_are_what_the_figure_would_be_if_none_and_if_all_of_them_were_met()
    {
        // 165 met of 177 eligible, 10 missing: 165/187 and 175/187.
        var report = Model.Measures[0] with { Year = new Count(165, 177, 10), YearEstimate = Samples.Estimate(new Count(165, 177, 10)) };
        var row = Parse(Appendix.Html(Model with { Measures = [report] }, [])).QuerySelector("table.summary tbody tr")!;
        Assert.Equal("between 88.2 % and 93.6 % if all 10 missing were not met or met", Words(row.Children[4]));
    }

    [Fact]
    public void None_in_n_gives_the_one_sided_exact_bound_by_name()
    {
        // 1 - 0.05^(1/30) = 0.0950: the design's own example, 0/30.
        var count = new Count(0, 30, 0);
        var report =
            Model.Measures[0] with { Year = count, YearEstimate = Samples.Estimate(count), ZeroBound = 1 - Math.Pow(0.05, 1 / 30.0) };
        var row = Parse(Appendix.Html(Model with { Measures = [report] }, [])).QuerySelector("table.summary tbody tr")!;
        Assert.Contains("none in 30: at most 9.5 % (one-sided exact 95 % bound)", Words(row.Children[3]), StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_not_collected_is_listed_with_its_reason_and_has_no_figure()
    {
        Assert.Equal(["Cricothyroid membrane identified", "no source collects Membrane palpated, Membrane ultrasound"],
            Page.QuerySelector("#t-absent")!.ParentElement!.QuerySelectorAll("tbody tr > *").Select(cell => Words(cell)));
        Assert.Null(Page.GetElementById("m-membrane_identified"));
    }

    [Fact]
    public void Rows_in_are_accounted_for_in_words_and_in_a_table()
    {
        Assert.Contains("669 rows in = 645 accepted + 12 superseded + 3 withdrawn + 9 quarantined", Words(Page.QuerySelector(".sum")!),
            StringComparison.Ordinal);
        Assert.Equal(["total", "669", "645", "12", "3", "9"], Page.QuerySelector("table.total tbody tr:last-child")!.Children
            .Select(cell => Words(cell)));
    }

    [Fact]
    public void Assumptions_are_printed_beside_what_rests_on_them()
    {
        Assert.Contains("assumes Urgency: emergency", Words(Page.QuerySelector("table.summary tbody tr")!), StringComparison.Ordinal);
        Assert.DoesNotContain("assumes", Words(Page.QuerySelectorAll("table.summary tbody tr")[1]), StringComparison.Ordinal);
        Assert.Contains("Urgency: emergency", Words(Page.QuerySelector(".caution")!), StringComparison.Ordinal);
    }

    [Fact]
    public void Conditions_are_printed_as_they_ran()
    {
        var definitions = Page.QuerySelectorAll("article.definition");
        Assert.Equal(Model.Measures.Length, definitions.Length);
        Assert.Contains("first_pass AND spo2_min < 90", definitions[0].QuerySelectorAll("code").Select(code => code.TextContent));
        Assert.Contains("Published elsewhere, as context and never as a target", definitions[0].TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_definition_stands_beside_that_of_its_source()
    {
        var items = Page.QuerySelectorAll("article.definition").Select(article => article.QuerySelectorAll("dt")
            .ToDictionary(Words, term => Words(term.NextElementSibling!))).ToArray();
        Assert.Equal("The tube is placed during a single insertion of the laryngoscope.", items[0]["As published"]);
        Assert.Equal("An attempt is what the record numbers as one.", items[0]["Difference and why"]);
        Assert.DoesNotContain("As published", items[1].Keys);
    }

    [Fact]
    public void Without_charts_the_data_tables_stand_alone()
    {
        var page = Parse(Appendix.Html(Model, []));
        Assert.Empty(page.QuerySelectorAll("svg"));
        Assert.NotEmpty(page.QuerySelectorAll("table.data"));
    }

    [Fact]
    public void An_empty_department_still_has_a_report()
    {
        var nothing = new Figures
        {
            PipelineName = "empty",
            Month = Samples.First,
            First = Samples.First,
            Last = Samples.First,
            AsOf = new DateOnly(2023, 5, 1),
            Version = "0.1.0",
            DefinitionsHash = "0",
            Procedures = [0],
        };
        var page = Parse(Appendix.Html(nothing, Charts.Draw(nothing)));
        Assert.Equal(10, page.QuerySelectorAll("main > section > h2").Length);
        Assert.All(page.QuerySelectorAll("tbody"), body => Assert.NotEmpty(body.Children));
    }

    private static IDocument Parse(string html) => new HtmlParser().ParseDocument(html);

    private static string Words(IElement element) => element.TextContent.Replace('\u00a0', ' ').Trim();
}
