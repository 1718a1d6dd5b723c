using System.Text;
using System.Text.RegularExpressions;

namespace Outcomes.Tests.Browser;

/// <summary>The report on paper: at most eight sides, each of them one sheet, whatever the paper of the country.</summary>
public sealed partial class SidesTests(Chromium chromium, PageSet pages) : IClassFixture<PageSet>
{
    private const int Most = 8;

    [Theory]
    [InlineData("A4")]
    [InlineData("Letter")]
    public async Task The_report_of_the_demonstration_has_at_most_eight_sides_and_each_is_one_sheet(string paper)
    {
        await using var open = await chromium.Open(pages["report.html"]);
        var sides = await open.Page.Locator("section.side").CountAsync();
        Assert.InRange(sides, 6, Most);
        Assert.InRange(Sheets(await open.Page.PdfAsync(new() { Format = paper })), 6, Most);
        for (var i = 0; i < sides; i++)
        {
            await open.Page.EvaluateAsync("i => document.querySelectorAll('section.side').forEach((side, at) => "
                + "side.style.display = at === i ? '' : 'none')", i);
            // The head of the report is on the first sheet alone.
            await open.Page.EvaluateAsync("i => document.querySelector('header').style.display = i === 0 ? '' : 'none'", i);
            Assert.Equal(1, Sheets(await open.Page.PdfAsync(new() { Format = paper })));
        }
    }

    [Fact]
    public async Task On_a_telephone_the_last_12_months_and_the_verdict_fit_the_screen_and_charts_open_at_their_last_months()
    {
        await using var open = await chromium.Open(pages["report.html"], 400);
        // No cell of the headline table lies outside the window.
        Assert.Equal(0, await open.Page.EvaluateAsync<int>("[...document.querySelectorAll('table.first :is(th, td)')]"
            + ".filter(cell => cell.getBoundingClientRect().right > window.innerWidth + 1).length"));
        // A chart is wider than the screen: its right end is what is seen.
        Assert.True(await open.Page.EvaluateAsync<bool>("(() => { const chart = document.querySelector('.measure .chart');"
            + " const drawing = chart.querySelector('svg').getBoundingClientRect(), box = chart.getBoundingClientRect();"
            + " return drawing.width > box.width + 10 && Math.abs(drawing.right - box.right) < 3; })()"));
        // The verdict stands above the drawing.
        Assert.True(await open.Page.EvaluateAsync<bool>("[...document.querySelectorAll('.side .measure')].every(measure => "
            + "measure.querySelector('.words').getBoundingClientRect().top < measure.querySelector('svg').getBoundingClientRect().top)"));
    }

    private static int Sheets(byte[] pdf) => Page().Count(Encoding.Latin1.GetString(pdf));

    [GeneratedRegex(@"/Type\s*/Page\b(?!s)")]
    private static partial Regex Page();
}
