#include "print/outline_tree.h"

#include "print/lettering.h"

namespace stripbook::print {

namespace {

struct Node {
    QPDFObjectHandle item;
    int level = -1;
    std::vector<Node> children{};
};

QPDFObjectHandle item_of(QPDF& pdf, std::vector<QPDFPageObjectHelper>& pages, const Bookmark& bookmark) {
    auto item = pdf.makeIndirectObject(QPDFObjectHandle::newDictionary());
    item.replaceKey("/Title", QPDFObjectHandle::newUnicodeString(bookmark.title));
    item.replaceKey("/Dest", destination(pages.at(bookmark.page), bookmark.y));
    return item;
}

void grow(Node& root, const QPDFObjectHandle& item, int level) {
    Node* parent = &root;
    while (!parent->children.empty() && parent->children.back().level < level) {
        parent = &parent->children.back();
    }
    parent->children.push_back({item, level});
}

// Gives how many items below `node` are shown while it is open.
int tie(Node& node, int open_levels) {
    int shown = 0;
    for (std::size_t i = 0; i < node.children.size(); ++i) {
        auto& item = node.children[i].item;
        item.replaceKey("/Parent", node.item);
        if (i > 0) {
            item.replaceKey("/Prev", node.children[i - 1].item);
            node.children[i - 1].item.replaceKey("/Next", item);
        }
        const int below = tie(node.children[i], open_levels);
        shown += 1 + (node.children[i].level + 1 < open_levels ? below : 0);
    }
    if (!node.children.empty()) {
        node.item.replaceKey("/First", node.children.front().item);
        node.item.replaceKey("/Last", node.children.back().item);
        // Negative: closed.
        const bool open = node.level + 1 < open_levels;
        node.item.replaceKey("/Count", QPDFObjectHandle::newInteger(open ? shown : -shown));
    }
    return shown;
}

}  // namespace

QPDFObjectHandle destination(QPDFPageObjectHelper& page, double y) {
    const double height_pt = page.getMediaBox().getArrayItem(3).getNumericValue();
    auto place = QPDFObjectHandle::newArray();
    place.appendItem(page.getObjectHandle());
    place.appendItem(QPDFObjectHandle::newName("/FitH"));
    place.appendItem(QPDFObjectHandle::newReal(height_pt - y / mm_per_point, 2));
    return place;
}

void add_outline(QPDF& pdf, std::vector<QPDFPageObjectHelper>& pages, const std::vector<Bookmark>& bookmarks,
                 int open_levels) {
    Node root{pdf.makeIndirectObject(QPDFObjectHandle::parse("<< /Type /Outlines >>"))};
    for (const auto& bookmark : bookmarks) {
        grow(root, item_of(pdf, pages, bookmark), bookmark.level);
    }
    tie(root, open_levels);
    pdf.getRoot().replaceKey("/Outlines", root.item);
    pdf.getRoot().replaceKey("/PageMode", QPDFObjectHandle::newName("/UseOutlines"));
}

}  // namespace stripbook::print
