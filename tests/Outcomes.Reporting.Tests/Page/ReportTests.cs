using System.Globalization;
using System.Text;
using AngleSharp.Dom;
using AngleSharp.Html.Parser;
using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Reporting.Drawings;
using Outcomes.Reporting.Page;
using Outcomes.Statistics;

namespace Outcomes.Tests.Reporting.Page;

/// <summary>The page is read by AngleSharp, a parser that follows the WHATWG HTML standard.</summary>
public class ReportTests
{
    private static readonly Figures Model = Samples.Model();
    private static readonly string Text = Report.Html(Model, Charts.Draw(Model, pictures: false));
    private static readonly IDocument Page = Parse(Text);

    [Fact]
    public void Nothing_in_it_runs_or_asks_anyone_for_anything()
    {
        Assert.Empty(Page.QuerySelectorAll("script, iframe, object, embed, link, img, base, form, [src], [srcset], [background]"));
        Assert.DoesNotContain(Page.All.SelectMany(element => element.Attributes),
            attribute => attribute.Name.StartsWith("on", StringComparison.Ordinal));
        Assert.All(Page.QuerySelectorAll("[href]"), link => Assert.StartsWith("#", link.GetAttribute("href"), StringComparison.Ordinal));
        // The one address is the name of the SVG namespace, which nobody fetches; fonts are data.
        Assert.Equal(0, Occurrences(Text.Replace("http://www.w3.org/2000/svg", "", StringComparison.Ordinal), "://"));
        Assert.Equal(Occurrences(Text, "url("), Occurrences(Text, "url(data:font/woff2;base64,"));
        Assert.DoesNotContain("@import", Text, StringComparison.Ordinal);
        var policy = Page.QuerySelector("meta[http-equiv='Content-Security-Policy']")!.GetAttribute("content")!;
        Assert.StartsWith("default-src 'none'", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("script-src", policy, StringComparison.Ordinal);
    }

    [Fact]
    public void Its_sections_are_all_there_in_order() => Assert.Equal(
        ["Read this first", "In short", "What this period was", "Summary", "Measure by measure", "Plan ladder", "Data quality", "Strata",
            "Definitions", "Methods", "Cautions"],
        Page.QuerySelectorAll("main > section > h2").Select(heading => heading.TextContent));

    [Fact]
    public void It_has_a_language_one_main_heading_landmarks_and_a_skip_link()
    {
        Assert.Equal("en", Page.DocumentElement.GetAttribute("lang"));
        Assert.Single(Page.QuerySelectorAll("h1"));
        foreach (var landmark in new[] { "header", "nav", "main", "footer" })
            Assert.Single(Page.QuerySelectorAll($"body > {landmark}"));
        Assert.Equal("#main", Page.QuerySelector("body > a")!.GetAttribute("href"));
        Assert.NotNull(Page.GetElementById("main"));
    }

    [Fact]
    public void Headings_never_skip_a_level()
    {
        var levels = Page.QuerySelectorAll("h1, h2, h3, h4, h5, h6").Select(heading => heading.LocalName[1] - '0').ToList();
        Assert.All(levels.Zip(levels.Skip(1)), pair => Assert.True(pair.Second <= pair.First + 1));
    }

    [Fact]
    public void Every_table_has_a_caption_headings_with_scope_and_a_box_to_scroll_in()
    {
        Assert.NotEmpty(Page.QuerySelectorAll("table"));
        Assert.All(Page.QuerySelectorAll("table"), table =>
        {
            Assert.NotEmpty(table.QuerySelector("caption")!.TextContent);
            Assert.All(table.QuerySelectorAll("th"),
                heading => Assert.Contains(heading.GetAttribute("scope"), (string[])["col", "row", "rowgroup"]));
            Assert.NotEmpty(table.QuerySelectorAll("tbody tr"));
            Assert.Equal("0", table.ParentElement!.GetAttribute("tabindex"));
            Assert.Equal(table.QuerySelector("caption")!.Id, table.ParentElement.GetAttribute("aria-labelledby"));
            var width = table.QuerySelectorAll("thead th").Length;
            Assert.All(table.QuerySelectorAll("tbody tr"), row => Assert.InRange(
                row.Children.Sum(cell => int.Parse(cell.GetAttribute("colspan") ?? "1", CultureInfo.InvariantCulture)), width - 1, width));
        });
    }

    [Fact]
    public void Ids_are_unique_and_every_reference_finds_its_target()
    {
        var ids = Page.QuerySelectorAll("[id]").Select(element => element.Id!).ToList();
        Assert.Equal(ids.Count, ids.Distinct().Count());
        var wanted = Page.QuerySelectorAll("[href]").Select(link => link.GetAttribute("href")![1..])
            .Concat(Page.QuerySelectorAll("[aria-labelledby]").SelectMany(element => element.GetAttribute("aria-labelledby")!.Split(' ')));
        Assert.Empty(wanted.Except(ids));
    }

    [Fact]
    public void Every_chart_speaks_and_has_its_data_in_a_table()
    {
        var figures = Page.QuerySelectorAll("figure svg");
        Assert.Equal(8, figures.Length);
        Assert.All(figures, svg =>
        {
            Assert.Equal("img", svg.GetAttribute("role"));
            Assert.NotEmpty(svg.QuerySelector("title")!.TextContent);
            Assert.NotEmpty(svg.QuerySelector("desc")!.TextContent);
        });
        Assert.All(Page.QuerySelectorAll("article.measure"), article => Assert.NotNull(article.QuerySelector("details table.data")));
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
        var row = Parse(Report.Html(Model with { Measures = [report] }, [])).QuerySelector("table.summary tbody tr")!;
        Assert.Equal("between 88.2 % and 93.6 % if all 10 missing were not met or met", Words(row.Children[4]));
    }

    [Fact]
    public void None_in_n_gives_the_one_sided_exact_bound_by_name()
    {
        // 1 - 0.05^(1/30) = 0.0950: the design's own example, 0/30.
        var count = new Count(0, 30, 0);
        var report =
            Model.Measures[0] with { Year = count, YearEstimate = Samples.Estimate(count), ZeroBound = 1 - Math.Pow(0.05, 1 / 30.0) };
        var row = Parse(Report.Html(Model with { Measures = [report] }, [])).QuerySelector("table.summary tbody tr")!;
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
    public void Page_and_paper_say_whom_they_are_for_and_that_the_data_are_invented()
    {
        const string Stamp = "department: contains small numbers, do not pass on";
        Assert.Contains(Page.QuerySelectorAll("header .stamp"), stamp => stamp.TextContent == Stamp);
        Assert.Contains("invented data", Words(Page.QuerySelector("header")!), StringComparison.Ordinal);
        Assert.Contains($"@bottom-left{{content:\"{Stamp} · invented data\"}}", Text, StringComparison.Ordinal);
        var real = Report.Html(Model with { Invented = false }, []);
        Assert.DoesNotContain("nvented data", real, StringComparison.Ordinal);
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
    public void A_partial_month_says_so()
    {
        Assert.DoesNotContain("Partial month", Text, StringComparison.Ordinal);
        Assert.Contains("Partial month", Report.Html(Model with { Partial = true }, []), StringComparison.Ordinal);
    }

    [Fact]
    public void Without_charts_the_data_tables_stand_alone()
    {
        var page = Parse(Report.Html(Model, []));
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
        var page = Parse(Report.Html(nothing, Charts.Draw(nothing)));
        Assert.Equal(11, page.QuerySelectorAll("main > section > h2").Length);
        Assert.All(page.QuerySelectorAll("tbody"), body => Assert.NotEmpty(body.Children));
    }

    [Fact]
    public void The_same_model_gives_the_same_bytes_in_any_culture()
    {
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = new CultureInfo("")
            {
                NumberFormat = { NumberDecimalSeparator = ",", NumberGroupSeparator = "." }
            };
            Assert.Equal(Text, Encoding.UTF8.GetString(Report.Utf8(Samples.Model(), Charts.Draw(Samples.Model(), pictures: false))));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Theory]
    [InlineData(Audience.Network)]
    [InlineData(Audience.Public)]
    public void The_page_of_unprotected_figures_is_refused_to_other_audiences(Audience audience)
    {
        var failure = Assert.Throws<Failure>(() => Report.Html(Model with { Audience = audience }, []));
        Assert.Equal(ExitCode.Definition, failure.Code);
    }

    private static IDocument Parse(string html) => new HtmlParser().ParseDocument(html);

    private static string Words(IElement element) => element.TextContent.Replace('\u00a0', ' ').Trim();

    private static int Occurrences(string text, string part) => text.Split(part).Length - 1;
}
