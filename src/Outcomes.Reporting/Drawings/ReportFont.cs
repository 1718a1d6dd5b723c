using Outcomes.Reporting.Page;
using ScottPlot;
using SkiaSharp;

namespace Outcomes.Reporting.Drawings;

/// <summary>
/// The font that ships with the tool. Drawn text silently vanishes on a machine without fonts, and differs between machines with
/// others, so every chart uses these two faces and no other.
/// </summary>
internal sealed class ReportFont : IFontResolver
{
    public const string Family = FontFaces.Family;

    private static readonly Lazy<ReportFont> Shared = new(() =>
    {
        var font = new ReportFont();
        Fonts.FontResolvers.Insert(0, font);
        Fonts.Default = Family;
        return font;
    });

    private readonly SKTypeface _regular = Load("fonts/Inter-Regular.ttf");
    private readonly SKTypeface _bold = Load("fonts/Inter-SemiBold.ttf");

    private ReportFont()
    {
    }

    /// <summary>Makes the font known, once, before the first drawing.</summary>
    public static void Register() => _ = Shared.Value;

    public SKTypeface? CreateTypeface(string fontName, FontWeight weight, FontSlant slant, FontSpacing spacing) =>
        CreateTypeface(fontName, weight >= FontWeight.SemiBold, slant != FontSlant.Upright);

    public SKTypeface? CreateTypeface(string fontName, bool bold, bool italic) =>
        fontName == Family ? (bold ? _bold : _regular) : null;

    private static SKTypeface Load(string name)
    {
        using var data = SKData.CreateCopy(EmbeddedFile.Bytes(name));
        return SKTypeface.FromData(data);
    }
}
