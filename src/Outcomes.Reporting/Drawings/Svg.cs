using System.Text;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Drawings;

/// <summary>
/// Makes a drawn SVG fit to stand in a page: it scales (viewBox), it speaks (role, title, description), its ids are its own, its marks take
/// few bytes (<see cref="SvgMarks"/>), and its bytes depend on the drawing alone.
/// </summary>
internal static class Svg
{
    /// <param name="drawn">What the canvas wrote.</param>
    /// <param name="slug">Prefix of every id.</param>
    /// <param name="title">The text alternative.</param>
    /// <param name="description">The long description.</param>
    /// <param name="width">Width in pixels.</param>
    /// <param name="height">Height in pixels.</param>
    public static string Finish(string drawn, string slug, string title, string description, int width, int height)
    {
        var to = new StringBuilder(drawn.Length);
        to.Append("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 ").Append(width).Append(' ').Append(height)
            .Append("\" role=\"img\" aria-labelledby=\"").Append(slug).Append("-t ").Append(slug).Append("-d\" font-family=\"")
            .Append(ReportFont.Family).Append(", Helvetica, Arial, sans-serif\" style=\"font-kerning:none\"><title id=\"")
            .Append(slug).Append("-t\">");
        Encode.Html(to, title);
        to.Append("</title><desc id=\"").Append(slug).Append("-d\">");
        Encode.Html(to, description);
        to.Append("</desc>");
        SvgMarks.Write(to, drawn, drawn.IndexOf('>', drawn.IndexOf("<svg", StringComparison.Ordinal)) + 1);
        return to.ToString();
    }

    /// <summary>The same drawing without its title line, for a page that says it by itself.</summary>
    public static string WithoutTitle(string svg)
    {
        const int Line = 26;
        const string Before = "viewBox=\"0 0 ";
        var at = svg.IndexOf(Before, StringComparison.Ordinal) + Before.Length;
        var space = svg.IndexOf(' ', at);
        var end = svg.IndexOf('"', space);
        var height = int.Parse(svg.AsSpan(space + 1, end - space - 1), System.Globalization.CultureInfo.InvariantCulture);
        return $"{svg.AsSpan(0, at - 4)}0 {Line} {svg.AsSpan(at, space - at)} {height - Line}{svg.AsSpan(end)}";
    }
}
