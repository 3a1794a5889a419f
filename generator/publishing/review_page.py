def review_page(a, b):
    return ""
