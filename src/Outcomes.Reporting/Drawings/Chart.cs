using System.Collections.Immutable;

namespace Outcomes.Reporting.Drawings;

/// <summary>A chart that has been drawn: for the page as SVG, and for a slide as SVG and PNG.</summary>
/// <param name="Id">A measure's id, <see cref="Charts.StrataId"/> of it, or <see cref="Charts.LadderId"/>.</param>
/// <param name="Name">Its file name without extension.</param>
/// <param name="Title">Its text alternative.</param>
/// <param name="Svg">For a page that brings the font.</param>
/// <param name="Slide">The slide as SVG; empty when no picture was asked for.</param>
/// <param name="Png">The slide as a picture; empty when none was asked for.</param>
public sealed record Chart(string Id, string Name, string Title, string Svg, string Slide, ImmutableArray<byte> Png);
