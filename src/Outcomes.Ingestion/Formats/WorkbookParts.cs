using System.Collections.Immutable;
using System.Globalization;
using System.IO.Compression;
using System.Xml;
using Outcomes.Ingestion.Reading;

namespace Outcomes.Ingestion.Formats;

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

    public void Dispose() => _zip.Dispose();

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
