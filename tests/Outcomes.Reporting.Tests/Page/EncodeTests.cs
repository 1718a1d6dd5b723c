using System.Text;
using AngleSharp.Html.Parser;
using CsCheck;
using Outcomes.Reporting.Page;

namespace Outcomes.Tests.Reporting.Page;

public class EncodeTests
{
    // Carriage returns are left out: the standard has every parser read them as line feeds. Half characters are not text.
    private static readonly Gen<string> Texts =
        Gen.OneOf(Gen.String, Gen.Char["<>&\"'=/! -a;#x\u202e"].Array.Select(chars => new string(chars)))
            .Where(text => !text.Any(c => char.IsSurrogate(c) || c == '\r'));

    [Fact]
    public void A_parser_reads_back_what_was_shown_in_content_and_in_attributes() => Texts.Sample(text =>
    {
        var to = new StringBuilder("<p title=\"");
        Encode.Html(to, text);
        to.Append("\">");
        Encode.Html(to, text);
        to.Append("</p>");
        var body = new HtmlParser().ParseDocument(to.ToString()).Body!;
        var read = body.Children.Single();
        return read.TextContent == Encode.Visible(text) && read.GetAttribute("title") == Encode.Visible(text) && read.Children.Length == 0;
    });

    [Fact]
    public void What_is_visible_already_stays_as_it_is() => Assert.Equal("Größe ≥ 90 %\t½", Encode.Visible("Größe ≥ 90 %\t½"));

    [Theory]
    [InlineData("first_pass", "first_pass")]
    [InlineData("../etc/passwd", "etc-passwd")]
    [InlineData("CON\\x:y", "con-x-y")]
    [InlineData("…", "x")]
    public void A_slug_is_safe_as_a_file_name_and_an_id(string name, string slug) => Assert.Equal(slug, Encode.Slug(name));
}
