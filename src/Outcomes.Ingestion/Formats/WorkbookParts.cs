using System.Collections.Immutable;
using System.Globalization;
using System.IO.Compression;
using System.Xml;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Store;

namespace Outcomes.Ingestion.Formats;

/// <summary>A text that lies in a workbook beside its sheets.</summary>
/// <param name="Rule">The kind of place.</param>
/// <param name="Place">Its number.</param>
/// <param name="Column">Column of the cell that it belongs to, 1-based; 0 where there is none.</param>
/// <param name="Line">Row of that cell.</param>
/// <param name="Text">The text.</param>
internal readonly record struct PartText(CellRule Rule, int Place, int Column, int Line, string Text);

/// <summary>
/// What the workbook reader does not tell: the names of all sheets, and where a sheet holds error values such as <c>#N/A</c>, which
/// it gives as blank cells. Nearly every sheet has none, and a search of its bytes says so at the cost of unpacking it; only one that
/// has some is parsed.
/// </summary>
internal sealed class WorkbookParts : IDisposable
{
    private const string Relations = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

    private readonly ZipArchive _zip;

    /// <param name="path">A workbook that has passed <see cref="WorkbookScreen"/>.</param>
    public WorkbookParts(string path)
    {
        _zip = new ZipArchive(new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite), ZipArchiveMode.Read);
        var names = ImmutableArray.CreateBuilder<(string Name, string? Id)>();
        if (Find("xl/workbook.xml") is { } workbook)
        {
            using var xml = Open(workbook);
            while (xml.Read())
                if (xml is { NodeType: XmlNodeType.Element, LocalName: "sheet" })
                    names.Add((xml.GetAttribute("name") ?? "", xml.GetAttribute("id", Relations)));
        }

        Sheets = names.ToImmutable();
    }

    /// <summary>The sheets in the workbook's order: name, and the key of its part.</summary>
    public ImmutableArray<(string Name, string? Id)> Sheets { get; }

    /// <summary>The texts beside the sheets: comments, properties, defined names, and whatever other parts hold.</summary>
    public IEnumerable<PartText> Texts()
    {
        foreach (var text in Comments()) yield return text;
        foreach (var text in Properties()) yield return text;
        var number = 0;
        foreach (var (name, value) in Named("xl/workbook.xml", "definedName"))
            yield return new PartText(CellRule.DefinedName, ++number, 0, 0, Spaced($"{name} {value}"));
        for (var i = 0; i < _zip.Entries.Count; i++)
            if (IsOtherPart(_zip.Entries[i].FullName))
                foreach (var text in Strings(_zip.Entries[i]))
                    yield return new PartText(CellRule.WorkbookPart, i + 1, 0, 0, text);
    }

    public void Dispose() => _zip.Dispose();

    // Office Open XML (ECMA-376, part 1, 12.3): drawings, pivot tables' memories, connections, links, and XML of other programs.
    private static bool IsOtherPart(string name) => name.StartsWith("xl/drawings/", StringComparison.OrdinalIgnoreCase)
        || name.StartsWith("xl/pivotCache/", StringComparison.OrdinalIgnoreCase)
        || name.StartsWith("xl/worksheets/_rels/", StringComparison.OrdinalIgnoreCase)
        || name.StartsWith("xl/queryTables/", StringComparison.OrdinalIgnoreCase)
        || name.StartsWith("customXml/", StringComparison.OrdinalIgnoreCase)
        || name.Equals("xl/connections.xml", StringComparison.OrdinalIgnoreCase);

    private IEnumerable<PartText> Comments()
    {
        for (var place = 1; place <= Sheets.Length; place++)
        {
            if (Part(Sheets[place - 1].Id) is not { } sheet) continue;
            var slash = sheet.FullName.LastIndexOf('/');
            if (Find($"{sheet.FullName[..slash]}/_rels{sheet.FullName[slash..]}.rels") is not { } relations) continue;
            foreach (var target in Attributes(relations, "Relationship", "Target"))
                if (target.Contains("omments", StringComparison.OrdinalIgnoreCase) && Find(Resolved(target)) is { } part)
                    foreach (var text in CommentsOf(part, place)) yield return text;
        }

        foreach (var part in _zip.Entries.Where(part => part.FullName.StartsWith("xl/persons/", StringComparison.OrdinalIgnoreCase)))
            foreach (var text in Strings(part)) yield return new PartText(CellRule.Comment, 0, 0, 0, text);
    }

    private static string Resolved(string target) =>
        target.StartsWith('/') ? target[1..] : $"xl/{target.Replace("../", "", StringComparison.Ordinal)}";

    // The text of a comment comes in runs, each with its own format.
    private static IEnumerable<PartText> CommentsOf(ZipArchiveEntry part, int place)
    {
        using var xml = Open(part);
        var (line, column, text) = (0, 0, new System.Text.StringBuilder());
        while (xml.Read())
        {
            if (xml is { NodeType: XmlNodeType.Element, LocalName: "comment" or "threadedComment" }
                && xml.GetAttribute("ref") is { } reference)
            {
                if (text.Length > 0) yield return new PartText(CellRule.Comment, place, column, line, text.ToString());
                text.Clear();
                column = ColumnOf(reference) + 1;
                line = int.TryParse(reference.AsSpan().TrimStart("ABCDEFGHIJKLMNOPQRSTUVWXYZ"), NumberStyles.None,
                    CultureInfo.InvariantCulture, out var row) ? row : 0;
            }
            else if (xml.NodeType == XmlNodeType.Text && column > 0)
            {
                text.Append(xml.Value);
            }
            else if (xml.NodeType == XmlNodeType.Text)
            {
                yield return new PartText(CellRule.Comment, 0, 0, 0, xml.Value);
            }
        }

        if (text.Length > 0) yield return new PartText(CellRule.Comment, place, column, line, text.ToString());
    }

    private IEnumerable<PartText> Properties()
    {
        foreach (var name in (string[])["docProps/core.xml", "docProps/app.xml"])
            for (var i = 0; i < PlaceNames.Properties.Length; i++)
                foreach (var (_, value) in Named(name, PlaceNames.Properties[i]))
                    yield return new PartText(CellRule.Property, i + 1, 0, 0, Spaced(value));
        var number = PlaceNames.Custom;
        foreach (var (name, value) in Named("docProps/custom.xml", "property"))
            yield return new PartText(CellRule.Property, ++number, 0, 0, $"{Spaced(name)} {value}");
    }

    // Elements of one name with their own name and the text within them.
    private IEnumerable<(string Name, string Value)> Named(string part, string element)
    {
        if (Find(part) is not { } entry) yield break;
        using var xml = Open(entry);
        while (xml.Read())
            if (xml.NodeType == XmlNodeType.Element && xml.LocalName == element)
            {
                var name = xml.GetAttribute("name") ?? "";
                // Excel's own names, such as print areas, begin so.
                if (name.StartsWith("_xlnm.", StringComparison.Ordinal)) continue;
                using var inside = xml.ReadSubtree();
                var value = new System.Text.StringBuilder();
                while (inside.Read())
                    if (inside.NodeType == XmlNodeType.Text) value.Append(inside.Value);
                yield return (name, value.ToString());
            }
    }

    private static IEnumerable<string> Attributes(ZipArchiveEntry part, string element, string attribute)
    {
        using var xml = Open(part);
        while (xml.Read())
            if (xml.NodeType == XmlNodeType.Element && xml.LocalName == element && xml.GetAttribute(attribute) is { } value)
                yield return value;
    }

    // Every text and every attribute that is no identifier of the format's own.
    private static IEnumerable<string> Strings(ZipArchiveEntry part)
    {
        if (!part.FullName.EndsWith(".xml", StringComparison.OrdinalIgnoreCase)
            && !part.FullName.EndsWith(".rels", StringComparison.OrdinalIgnoreCase)) yield break;
        using var xml = Open(part);
        while (xml.Read())
        {
            if (xml.NodeType == XmlNodeType.Text) yield return xml.Value;
            if (xml.NodeType != XmlNodeType.Element || !xml.HasAttributes) continue;
            for (var i = 0; i < xml.AttributeCount; i++)
            {
                xml.MoveToAttribute(i);
                // A link inside the workbook has no scheme.
                if (Told.Contains(xml.LocalName) || (xml.LocalName == "Target" && xml.Value.Contains(':', StringComparison.Ordinal)))
                    yield return xml.Value.Replace("mailto:", "", StringComparison.OrdinalIgnoreCase);
            }

            xml.MoveToElement();
        }
    }

    // Attributes that hold words of people: values, titles, descriptions, names of people, links to files.
    private static readonly string[] Told = ["v", "title", "descr", "displayName", "userId", "connection", "command"];

    private static string Spaced(string text) => text.Replace('_', ' ');

    /// <summary>The error values of a sheet by row and column, both 0-based.</summary>
    public Dictionary<(int Row, int Column), string> Errors(string sheet)
    {
        var found = new Dictionary<(int, int), string>();
        if (Part(Sheets.FirstOrDefault(named => named.Name == sheet).Id) is not { } part || !MayHaveErrors(part)) return found;
        using var xml = Open(part);
        var (row, column) = (-1, -1);
        while (xml.Read())
        {
            if (xml.NodeType != XmlNodeType.Element) continue;
            if (xml.LocalName == "row")
            {
                row = xml.GetAttribute("r") is { } number
                    && int.TryParse(number, NumberStyles.None, CultureInfo.InvariantCulture, out var given) ? given - 1 : row + 1;
                column = -1;
            }
            else if (xml.LocalName == "c")
            {
                column = xml.GetAttribute("r") is { } reference ? ColumnOf(reference) : column + 1;
                if (xml.GetAttribute("t") == "e") found[(row, column)] = ValueOf(xml);
            }
        }

        return found;
    }

    private static string ValueOf(XmlReader cell)
    {
        using var inside = cell.ReadSubtree();
        while (inside.Read())
            if (inside is { NodeType: XmlNodeType.Element, LocalName: "v" }
                && inside.ReadElementContentAsString().Trim() is { Length: > 0 } text)
                return ErrorValues.Is(text) ? text : ErrorValues.Unknown;
        return ErrorValues.Unknown;
    }

    // Office Open XML (ECMA-376, part 1, 18.3.1.4): the type of an error cell is e. Writers put either quotation mark.
    private static bool MayHaveErrors(ZipArchiveEntry part)
    {
        var buffer = new byte[1 << 16];
        using var bytes = part.Open();
        for (var kept = 0; ;)
        {
            var read = bytes.Read(buffer, kept, buffer.Length - kept);
            if (read == 0) return false;
            var text = buffer.AsSpan(0, kept + read);
            if (text.IndexOf("t=\"e\""u8) >= 0 || text.IndexOf("t='e'"u8) >= 0) return true;
            kept = Math.Min(4, text.Length);
            text[^kept..].CopyTo(buffer);
        }
    }

    private ZipArchiveEntry? Part(string? id)
    {
        if (id is null || Find("xl/_rels/workbook.xml.rels") is not { } relations) return null;
        using var xml = Open(relations);
        while (xml.Read())
            if (xml is { NodeType: XmlNodeType.Element, LocalName: "Relationship" } && xml.GetAttribute("Id") == id
                && xml.GetAttribute("Target") is { } target)
                return Find(target.StartsWith('/') ? target[1..] : "xl/" + target);
        return null;
    }

    private ZipArchiveEntry? Find(string name) =>
        _zip.Entries.FirstOrDefault(part => string.Equals(part.FullName, name, StringComparison.OrdinalIgnoreCase));

    private static XmlReader Open(ZipArchiveEntry part) =>
        XmlReader.Create(part.Open(),
            new XmlReaderSettings { DtdProcessing = DtdProcessing.Prohibit, XmlResolver = null, CloseInput = true });

    private static int ColumnOf(string reference)
    {
        var column = 0;
        foreach (var c in reference.TakeWhile(char.IsAsciiLetter)) column = (column * 26) + char.ToUpperInvariant(c) - 'A' + 1;
        return column - 1;
    }
}
