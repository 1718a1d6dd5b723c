using System.Text;
using System.Text.RegularExpressions;

namespace Outcomes.Tests.Browser;

/// <summary>
/// The pages of the demonstration's run in a browser: no breach of WCAG 2.2 AA that axe finds, no request, nothing that needs scripts, no
/// sideways scrolling.
/// </summary>
public sealed class ReportTests(Chromium chromium, PageSet pages) : IClassFixture<PageSet>
{
    [Theory]
    [InlineData("report.html", 1280)]
    [InlineData("report.html", 320)]
    [InlineData("appendix.html", 1280)]
    [InlineData("appendix.html", 320)]
    [InlineData("cases.html", 1280)]
    [InlineData("cases.html", 320)]
    public async Task A_page_breaks_no_rule_asks_for_nothing_and_fits_its_window(string file, int width)
    {
        await using var open = await chromium.Open(pages[file], width);
        open.Page.SetDefaultTimeout(120_000);
        Assert.Empty((await open.Violations()).Take(10));
        Assert.Single(open.Requests);
        Assert.Empty(open.Complaints);
        // Wide tables and charts scroll in boxes of their own; the page does not.
        Assert.True(await open.Page.EvaluateAsync<bool>("document.documentElement.scrollWidth <= window.innerWidth"),
            "the page scrolls sideways");
    }

    [Fact]
    public async Task A_case_prints_on_one_sheet_with_the_part_to_fill_in_unbroken()
    {
        await using var open = await chromium.Open(pages["cases.html"]);
        var cases = await open.Page.Locator("article.case").CountAsync();
        Assert.True(cases > 2);
        for (var i = 0; i < cases; i++)
        {
            await open.Page.EvaluateAsync("i => document.querySelectorAll('body > header, body > footer, "
                + "main > *').forEach(e => e.style.display = e === document.querySelectorAll('article.case')[i] ? '' : 'none')", i);
            var pdf = Encoding.Latin1.GetString(await open.Page.PdfAsync(new() { Format = "A4" }));
            Assert.InRange(Regex.Count(pdf, @"/Type\s*/Page\b(?!s)"), 1, 2);
        }

        Assert.Equal("avoid", await open.Page.EvaluateAsync<string>(
            "() => { const rules = [...document.styleSheets].flatMap(s => [...s.cssRules]).filter(r => r.media?.mediaText === "
                + "'print').flatMap(r => [...r.cssRules]); return rules.find(r => r.selectorText === '.meeting').style.breakInside; }"));
    }

    [Theory]
    [InlineData("report.html", "In short")]
    [InlineData("appendix.html", "Definitions")]
    [InlineData("cases.html", "Index")]
    public async Task Without_scripts_everything_is_there(string file, string heading)
    {
        await using var open = await chromium.Open(pages[file], scripts: false);
        Assert.Equal(heading, await open.Page.Locator($"h2:text-is('{heading}')").TextContentAsync());
        Assert.Single(open.Requests);
    }
}
