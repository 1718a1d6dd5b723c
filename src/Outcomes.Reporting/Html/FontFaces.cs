namespace Outcomes.Reporting.Page;

/// <summary>The shipped font as CSS, so that a page or an SVG by itself needs nothing from the machine it is read on.</summary>
internal static class FontFaces
{
    public const string Family = "Inter";

    public static readonly Lazy<string> Css = new(() => Face("fonts/Inter-Regular.woff2", 400) + Face("fonts/Inter-SemiBold.woff2", 600));

    private static string Face(string file, int weight) =>
        $"@font-face{{font-family:{Family};font-weight:{weight};src:url(data:font/woff2;base64,"
            + $"{Convert.ToBase64String(EmbeddedFile.Bytes(file))}) format('woff2')}}\n";
}
