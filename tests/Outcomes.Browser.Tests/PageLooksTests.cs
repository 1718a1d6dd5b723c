using Microsoft.Playwright;

namespace Outcomes.Tests.Browser;

/// <summary>
/// The pages under the eyes and settings that people have (WCAG 2.2: 1.4.1, 1.4.3, 1.4.4, 1.4.10, 1.4.11, 2.3.3), on paper and
/// without scripts.
/// </summary>
public sealed class PageLooksTests(Chromium chromium, PageSet pages) : IClassFixture<PageSet>
{
    public static TheoryData<string> All => [
        "report.html", "appendix.html", "cases.html", "network.html", "form.html", "paper.html", "meeting.html"
    ];

    [Theory]
    [InlineData("network.html", 1280)]
    [InlineData("network.html", 320)]
    [InlineData("paper.html", 1280)]
    [InlineData("paper.html", 320)]
    public async Task Axe_finds_nothing_on_the_pages_for_others_and_on_paper(string page, int width)
    {
        await using var open = await Open(page, width);
        Assert.Empty((await open.Violations()).Take(10));
        Assert.Single(open.Requests);
        Assert.Empty(open.Complaints);
    }

    [Theory]
    [MemberData(nameof(All))]
    public async Task At_320_pixels_and_with_letters_twice_as_large_nothing_is_cut_and_only_boxes_scroll_sideways(string page)
    {
        foreach (var (width, size) in new[] { (320, 1), (1280, 2), (640, 2) })
        {
            await using var open = await Open(page, width);
            var before = await open.Page.EvaluateAsync<double>("parseFloat(getComputedStyle(document.querySelector('p')).fontSize)");
            // A setting of the browser, as a rule of the page: its own policy forbids a style that it does not know.
            await open.Page.EvaluateAsync("size => { const larger = new CSSStyleSheet(); larger.replaceSync(`html { font-size: "
                + "${100 * size}% } body { zoom: ${getComputedStyle(document.body).fontSize === "
                + "getComputedStyle(document.documentElement).fontSize ? 1 : size} }`); document.adoptedStyleSheets = [larger]; }", size);
            Assert.Equal(size * before, await open.Page.EvaluateAsync<double>(
                "parseFloat(getComputedStyle(document.querySelector('p')).fontSize) * parseFloat(getComputedStyle(document.body).zoom)"),
                0.5);
            Assert.Empty(await open.Page.EvaluateAsync<string[]>(PageChecks.Cut));
        }
    }

    [Theory]
    [MemberData(nameof(All))]
    public async Task In_grey_every_text_has_4_5_to_1_and_every_mark_3_to_1(string page)
    {
        await using var open = await Open(page, 1280);
        Assert.Empty(await open.Page.EvaluateAsync<string[]>(PageChecks.Pale));
        Assert.True(await open.Page.EvaluateAsync<int>(PageChecks.Judged) > 50);
    }

    [Theory]
    [InlineData("report.html", ColorScheme.Dark)]
    [InlineData("appendix.html", ColorScheme.Dark)]
    [InlineData("cases.html", ColorScheme.Dark)]
    [InlineData("network.html", ColorScheme.Dark)]
    [InlineData("form.html", ColorScheme.Dark)]
    [InlineData("meeting.html", ColorScheme.Dark)]
    [InlineData("report.html", ColorScheme.Light)]
    [InlineData("form.html", ColorScheme.Light)]
    [InlineData("meeting.html", ColorScheme.Light)]
    public async Task With_the_colours_of_the_person_texts_and_charts_are_still_seen(string page, ColorScheme scheme)
    {
        await using var open = await Open(page, 1280);
        await open.Page.EmulateMediaAsync(new() { ForcedColors = ForcedColors.Active, ColorScheme = scheme });
        Assert.True(await open.Page.EvaluateAsync<bool>("matchMedia('(forced-colors: active)').matches"));
        Assert.Empty(await open.Page.EvaluateAsync<string[]>(PageChecks.Pale));
    }

    [Theory]
    [MemberData(nameof(All))]
    public async Task Nothing_moves_for_a_person_who_asks_for_stillness(string page)
    {
        await using var open = await Open(page, 1280);
        await open.Page.EmulateMediaAsync(new() { ReducedMotion = ReducedMotion.Reduce });
        Assert.Equal(0, await open.Page.EvaluateAsync<int>("""
            [...document.querySelectorAll('*')].map(one => getComputedStyle(one)).filter(style => style.animationName !== 'none' || style.transitionDuration.split(',').some(time => parseFloat(time) > 0) || style.scrollBehavior === 'smooth').length
            """));
    }

    [Theory]
    [InlineData("report.html")]
    [InlineData("appendix.html")]
    [InlineData("cases.html")]
    [InlineData("network.html")]
    [InlineData("paper.html")]
    public async Task On_paper_rows_and_charts_stay_whole_heads_come_again_and_nothing_runs_over_the_side(string page)
    {
        await using var open = await Open(page, 688);
        await open.Page.EmulateMediaAsync(new() { Media = Media.Print });
        Assert.Empty(await open.Page.EvaluateAsync<string[]>(PageChecks.Torn));
    }

    [Fact]
    public async Task Without_scripts_what_is_folded_away_can_be_read()
    {
        await using var open = await chromium.Open(pages["appendix.html"], scripts: false);
        var first = open.Page.Locator("details").First;
        var inside = first.Locator(":scope > :not(summary)").First;
        Assert.False(await inside.IsVisibleAsync());
        await first.Locator("summary").First.ClickAsync();
        Assert.True(await inside.IsVisibleAsync());
    }

    private async Task<OpenPage> Open(string page, int width)
    {
        var open = await chromium.Open(pages[page], width);
        open.Page.SetDefaultTimeout(120_000);
        return open;
    }
}
