using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;
using Outcomes.Reporting.Page;

namespace Outcomes.Tests.Reporting.Page;

/// <summary>The frame of every page. What its policy must say: W3C, Content Security Policy Level 3, sections 6.1 and 8.4.</summary>
public sealed class PageShellTests
{
    private static string Hash(string text) => "'sha256-" + Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(text))) + "'";

    [Fact]
    public void A_page_without_drawings_may_use_its_own_style_and_script_and_nothing_else()
    {
        var page = new PageShell("T", "b{}") { Script = "f()" }.Write(html => html.Add($"<p>x</p>"));
        var style = Regex.Match(page, "<style>(.*?)</style>", RegexOptions.Singleline).Groups[1].Value;
        var script = Regex.Match(page, "<script>(.*?)</script>", RegexOptions.Singleline).Groups[1].Value;
        Assert.Equal("\nb{}", style);
        Assert.Equal("\nf()", script);
        Assert.Contains($"content=\"default-src 'none'; script-src {Hash(script)}; style-src {Hash(style)}; base-uri 'none'; "
            + "form-action 'none'\"", page, StringComparison.Ordinal);
    }

    [Fact]
    public void A_page_without_a_script_lets_none_run() =>
        Assert.DoesNotContain("script", new PageShell("T", "b{}").Write(html => html.Add($"<p>x</p>")), StringComparison.Ordinal);

    [Fact]
    public void A_title_is_text_and_the_body_stands_in_a_whole_page_with_a_language()
    {
        var page = PageShell.OfReport("a < b", "foot").Write(html => html.Add($"""<main id="main"></main>"""));
        Assert.Contains("<title>a &lt; b</title>", page, StringComparison.Ordinal);
        Assert.StartsWith("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n", page, StringComparison.Ordinal);
        Assert.EndsWith("<main id=\"main\"></main></body>\n</html>\n", page, StringComparison.Ordinal);
        Assert.Contains("<a class=\"skip\" href=\"#main\">", page, StringComparison.Ordinal);
        Assert.Contains("default-src 'none'", page, StringComparison.Ordinal);
        Assert.DoesNotContain("noindex", page, StringComparison.Ordinal);
    }

    [Fact]
    public void A_page_of_cases_asks_search_engines_to_leave_it_out() =>
        Assert.Contains("<meta name=\"robots\" content=\"noindex\">", PageShell.OfCases("T", "foot").Write(_ => { }),
            StringComparison.Ordinal);
}
