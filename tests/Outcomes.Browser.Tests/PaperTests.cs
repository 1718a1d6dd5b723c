using System.Text;
using System.Text.RegularExpressions;

namespace Outcomes.Tests.Browser;

/// <summary>The form on paper.</summary>
public sealed class PaperTests(Chromium chromium, FormPages forms) : IClassFixture<FormPages>
{
    [Fact]
    public async Task It_is_two_sides_of_A4_with_the_caution_and_no_request()
    {
        await using var paper = await chromium.Open(forms["paper.html"]);
        Assert.Contains("For audit and improvement only", await paper.Page.InnerTextAsync(".caution"), StringComparison.Ordinal);
        Assert.Empty(await paper.Violations());
        var pdf = Encoding.Latin1.GetString(await paper.Page.PdfAsync(new() { PreferCSSPageSize = true }));
        Assert.Equal(2, Regex.Count(pdf, @"/Type\s*/Page\b(?!s)"));
        // A4 (ISO 216) is 210 mm by 297 mm: 595 by 842 points of 1/72 inch.
        Assert.Matches(@"/MediaBox\s*\[\s*0 0 59[45](\.\d+)? 84[12](\.\d+)?\s*\]", pdf);
        Assert.Single(paper.Requests);
        Assert.Empty(paper.Complaints);
    }
}
