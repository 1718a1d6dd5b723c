using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using AngleSharp.Dom;
using AngleSharp.Html.Parser;
using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Reporting.Drawings;
using Outcomes.Reporting.Page;

namespace Outcomes.Tests.Reporting.Page;

/// <summary>Both documents are read by AngleSharp, a parser that follows the WHATWG HTML standard.</summary>
public class ReportTests
{
    private static readonly Figures Model = Samples.Model();

    private static readonly ImmutableArray<Chart> Drawn = Charts.Draw(Model, Slides.None);

    private static readonly Dictionary<string, string> Texts = new()
    {
        [Report.File] = Report.Html(Model, Drawn),
        [Appendix.File] = Appendix.Html(Model, Drawn),
    };

    public static TheoryData<string> Documents => [Report.File, Appendix.File];

    [Theory]
    [MemberData(nameof(Documents))]
    public void Nothing_in_it_runs_or_asks_anyone_for_anything(string file)
    {
        var (text, page) = (Texts[file], Parse(Texts[file]));
        Assert.Empty(page.QuerySelectorAll("script, iframe, object, embed, link, img, base, form, [src], [srcset], [background]"));
        Assert.DoesNotContain(page.All.SelectMany(element => element.Attributes),
            attribute => attribute.Name.StartsWith("on", StringComparison.Ordinal));
        // The one address is the name of the SVG namespace, which nobody fetches; fonts are data.
        Assert.Equal(0, Occurrences(text.Replace("http://www.w3.org/2000/svg", "", StringComparison.Ordinal), "://"));
        Assert.Equal(Occurrences(text, "url("), Occurrences(text, "url(data:font/woff2;base64,"));
        Assert.DoesNotContain("@import", text, StringComparison.Ordinal);
        var policy = page.QuerySelector("meta[http-equiv='Content-Security-Policy']")!.GetAttribute("content")!;
        Assert.StartsWith("default-src 'none'", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("script-src", policy, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Documents))]
    public void Every_link_leads_to_a_place_in_one_of_the_two_documents(string file)
    {
        var pages = Texts.ToDictionary(each => each.Key, each => Parse(each.Value));
        var links = pages[file].QuerySelectorAll("[href]").Select(link => link.GetAttribute("href")!).ToArray();
        Assert.NotEmpty(links);
        Assert.All(links, link =>
        {
            var (to, place) = link.Split('#') is [var name, var id] ? (name.Length == 0 ? file : name, id) : (link, null);
            Assert.True(pages.ContainsKey(to), link);
            if (place is not null)
                Assert.True(pages[to].GetElementById(place) is not null, link);
        });
        // Both ways.
        Assert.Contains(links, link => link.StartsWith(Texts.Keys.Single(other => other != file), StringComparison.Ordinal));
    }

    [Fact]
    public void A_short_report_has_its_sides_in_the_order_of_reading()
    {
        Assert.Equal(["In short", "Headline measures, 1 of 2", "Headline measures, 2 of 2", "Declared changes and actions",
            "Data quality, methods and cautions"],
            Parse(Texts[Report.File]).QuerySelectorAll("main > section.side > h2").Select(heading => heading.TextContent));
    }

    [Theory]
    [MemberData(nameof(Documents))]
    public void It_has_a_language_one_main_heading_landmarks_and_a_skip_link(string file)
    {
        var page = Parse(Texts[file]);
        Assert.Equal("en", page.DocumentElement.GetAttribute("lang"));
        Assert.Single(page.QuerySelectorAll("h1"));
        foreach (var landmark in new[] { "header", "nav", "main", "footer" })
            Assert.Single(page.QuerySelectorAll($"body > {landmark}"));
        Assert.Equal("#main", page.QuerySelector("body > a")!.GetAttribute("href"));
        Assert.NotNull(page.GetElementById("main"));
    }

    [Theory]
    [MemberData(nameof(Documents))]
    public void Headings_never_skip_a_level(string file)
    {
        var levels = Parse(Texts[file]).QuerySelectorAll("h1, h2, h3, h4, h5, h6").Select(heading => heading.LocalName[1] - '0').ToList();
        Assert.All(levels.Zip(levels.Skip(1)), pair => Assert.True(pair.Second <= pair.First + 1));
    }

    [Theory]
    [MemberData(nameof(Documents))]
    public void Every_table_has_a_caption_headings_with_scope_and_a_box_to_scroll_in(string file)
    {
        var page = Parse(Texts[file]);
        Assert.NotEmpty(page.QuerySelectorAll("table"));
        Assert.All(page.QuerySelectorAll("table"), table =>
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

    [Theory]
    [MemberData(nameof(Documents))]
    public void Ids_are_unique_and_every_label_finds_its_target(string file)
    {
        var page = Parse(Texts[file]);
        var ids = page.QuerySelectorAll("[id]").Select(element => element.Id!).ToList();
        Assert.Equal(ids.Count, ids.Distinct().Count());
        Assert.Empty(page.QuerySelectorAll("[aria-labelledby]")
            .SelectMany(element => element.GetAttribute("aria-labelledby")!.Split(' ')).Except(ids));
    }

    [Theory]
    [MemberData(nameof(Documents))]
    public void Page_and_paper_say_whom_they_are_for_and_that_the_data_are_invented(string file)
    {
        const string Stamp = "department: contains small numbers, do not pass on";
        var page = Parse(Texts[file]);
        Assert.Contains(page.QuerySelectorAll("header .stamp"), stamp => stamp.TextContent == Stamp);
        Assert.Contains("invented data", Words(page.QuerySelector("header")!), StringComparison.Ordinal);
        Assert.Contains($"@bottom-left{{content:\"{Stamp} · invented data\"}}", Texts[file], StringComparison.Ordinal);
        var real = Model with { Invented = false };
        Assert.DoesNotContain("nvented data", file == Report.File ? Report.Html(real, []) : Appendix.Html(real, []),
            StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Documents))]
    public void A_partial_month_says_so(string file)
    {
        Assert.DoesNotContain("Partial month", Texts[file], StringComparison.Ordinal);
        var partial = Model with { Partial = true };
        Assert.Contains("Partial month", file == Report.File ? Report.Html(partial, []) : Appendix.Html(partial, []),
            StringComparison.Ordinal);
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
        Assert.Equal(["In short", "Declared changes and actions", "Data quality, methods and cautions"],
            page.QuerySelectorAll("main > section > h2").Select(heading => heading.TextContent));
        Assert.All(page.QuerySelectorAll("tbody"), body => Assert.NotEmpty(body.Children));
    }

    [Theory]
    [MemberData(nameof(Documents))]
    public void The_same_model_gives_the_same_bytes_in_any_culture(string file)
    {
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = new CultureInfo("")
            {
                NumberFormat = { NumberDecimalSeparator = ",", NumberGroupSeparator = "." }
            };
            var (model, charts) = (Samples.Model(), Charts.Draw(Samples.Model(), Slides.None));
            Assert.Equal(Texts[file],
                Encoding.UTF8.GetString(file == Report.File ? Report.Utf8(model, charts) : Appendix.Utf8(model, charts)));
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
        var shared = Model with { Audience = audience };
        Assert.Equal(ExitCode.Definition, Assert.Throws<Failure>(() => Report.Html(shared, [])).Code);
        Assert.Equal(ExitCode.Definition, Assert.Throws<Failure>(() => Appendix.Html(shared, [])).Code);
    }

    private static IDocument Parse(string html) => new HtmlParser().ParseDocument(html);

    private static string Words(IElement element) => element.TextContent.Replace('\u00a0', ' ').Trim();

    private static int Occurrences(string text, string part) => text.Split(part).Length - 1;
}
